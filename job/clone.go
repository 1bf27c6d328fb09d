package job

import "reflect"

// Clone returns a deep copy of a job.
func Clone(j *Job) *Job {
	if j == nil {
		return nil
	}
	c := *j
	detach(reflect.ValueOf(&c).Elem())
	return &c
}

// detach replaces every pointer and slice in v by a copy.
func detach(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if v.IsNil() {
			return
		}
		c := reflect.New(v.Type().Elem())
		c.Elem().Set(v.Elem())
		v.Set(c)
		detach(c.Elem())
	case reflect.Slice:
		if v.IsNil() {
			return
		}
		c := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
		reflect.Copy(c, v)
		v.Set(c)
		if k := v.Type().Elem().Kind(); k == reflect.Struct || k == reflect.Pointer || k == reflect.Slice {
			for i := range c.Len() {
				detach(c.Index(i))
			}
		}
	case reflect.Struct:
		if isMaybe(v.Type()) {
			return
		}
		for i := range v.NumField() {
			switch v.Field(i).Kind() {
			case reflect.Pointer, reflect.Slice, reflect.Struct:
				detach(v.Field(i))
			}
		}
	}
}
