package job

import "reflect"

// Clone is a deep copy: changing it leaves d as it is.
func (d *Document) Clone() *Document {
	c := *d
	unshare(reflect.ValueOf(&c).Elem())
	return &c
}

// unshare replaces every pointer and slice that v, a copy, has in common with its original by a copy of its own. The
// document has no maps, channels or interfaces.
func unshare(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			p := reflect.New(v.Type().Elem())
			p.Elem().Set(v.Elem())
			unshare(p.Elem())
			v.Set(p)
		}
	case reflect.Slice:
		if v.IsNil() {
			return
		}
		s := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		reflect.Copy(s, v)
		v.Set(s)
		for i := range s.Len() {
			unshare(s.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Field(i); f.CanSet() {
				unshare(f)
			}
		}
	}
}
