package find

// Forget forgets all that was read, seen and mended, as if the door had just been opened. Measured loops stay.
func (f *Finder) Forget() {
	f.forget()
	f.now = f.standing()
	for _, s := range f.suspects {
		s.mended = false
	}
}
