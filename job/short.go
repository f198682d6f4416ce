package job

// Short forms: a device of which only the model is stated is written as that model alone, and printed so.

// UnmarshalText reads the model alone; the check of names comes later, with all the others.
func (d *FittedDoc) UnmarshalText(text []byte) error {
	*d = FittedDoc{Model: string(text)}
	return nil
}

// MarshalYAML writes the model alone where nothing else is stated.
func (d FittedDoc) MarshalYAML() (any, error) {
	type full FittedDoc
	if d == (FittedDoc{Model: d.Model}) {
		return d.Model, nil
	}
	return full(d), nil
}

// UnmarshalText reads the model alone.
func (d *LockDoc) UnmarshalText(text []byte) error {
	*d = LockDoc{Model: string(text)}
	return nil
}

// MarshalYAML writes the model alone where nothing else is stated.
func (d LockDoc) MarshalYAML() (any, error) {
	type full LockDoc
	if d == (LockDoc{Model: d.Model}) {
		return d.Model, nil
	}
	return full(d), nil
}

// UnmarshalText reads the model alone.
func (d *ReleaseDoc) UnmarshalText(text []byte) error {
	*d = ReleaseDoc{Model: string(text)}
	return nil
}

// MarshalYAML writes the model alone where nothing else is stated.
func (d ReleaseDoc) MarshalYAML() (any, error) {
	type full ReleaseDoc
	if d == (ReleaseDoc{Model: d.Model}) {
		return d.Model, nil
	}
	return full(d), nil
}

// UnmarshalText reads the model alone.
func (d *AuxDoc) UnmarshalText(text []byte) error {
	*d = AuxDoc{Model: string(text)}
	return nil
}

// MarshalYAML writes the model alone where nothing else is stated.
func (d AuxDoc) MarshalYAML() (any, error) {
	type full AuxDoc
	if d == (AuxDoc{Model: d.Model}) {
		return d.Model, nil
	}
	return full(d), nil
}

// Names with a dot are those of places and runs that a door brings along.
const (
	placeName = `^[A-Za-z][A-Za-z0-9_-]{0,31}(\.(box|head|in|out))?$`
	runName   = `^[A-Za-z][A-Za-z0-9_-]{0,31}(\.[A-Za-z0-9_-]{1,40}){0,3}$`
)

// KeyText lets a document write about the places that doors bring along, such as D1.box.
func (PlaceDoc) KeyText() (pattern, example string) { return placeName, "CAB1" }

// KeyText lets a document write out a run that was taken by default, such as D1.head.p.
func (RunDoc) KeyText() (pattern, example string) { return runName, "R1" }
