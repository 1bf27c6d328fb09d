package quote

import (
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"sync"
	"time"

	leste "leste"
	"leste/accept"
	"leste/job"
)

// ArchiveVersion is the version of the file that a quotation is kept in. Newer ones are refused.
const ArchiveVersion = 2

// An Archive is a quotation with the numbers it was made from, so that it reopens as it was.
type Archive struct {
	Version    int
	JobName    string // of the job file
	JobFile    string // its text
	Result     leste.Result
	Terms      Terms
	Blowers    []BlowerCurve
	Loads      []Load
	Branches   []job.Branch // ducts and hoses as calculated: the job's, or those assumed for it
	Tolerances []accept.Tolerance
	Limits     []accept.Tolerance
}

// archiveMark is the first key of the file.
const archiveMark = "leste_quotation"

// IsArchive reports whether a file is a kept quotation.
func IsArchive(data []byte) bool {
	var head struct {
		Mark *int `json:"leste_quotation"`
	}
	return json.Unmarshal(data, &head) == nil && head.Mark != nil
}

// Pack writes the archive as JSON. Numbers that are not known or have no end are kept as words. Long lists of numbers
// are squeezed beside each other; the file does not depend on how many cores do it.
func (a Archive) Pack() ([]byte, error) {
	a.Version = ArchiveVersion
	var p packer
	quotation := p.pack(reflect.ValueOf(a))
	var wait sync.WaitGroup
	for _, l := range p.lists {
		wait.Go(func() { l.text = squeeze(l.numbers) })
	}
	wait.Wait()
	out, err := json.Marshal(map[string]any{archiveMark: ArchiveVersion, "quotation": quotation})
	if err != nil {
		return nil, fmt.Errorf("quote: the quotation cannot be kept: %w", err)
	}
	return append(out, '\n'), nil
}

// Unpack reads an archive.
func Unpack(data []byte) (Archive, error) {
	var file struct {
		Mark      int `json:"leste_quotation"`
		Quotation any `json:"quotation"`
	}
	var a Archive
	if err := json.Unmarshal(data, &file); err != nil {
		return a, fmt.Errorf("the file is no quotation that was kept: %w", err)
	}
	if file.Mark > ArchiveVersion {
		return a, fmt.Errorf("the quotation was kept by a newer version of the program (%d; this one reads up to %d)", file.Mark, ArchiveVersion)
	}
	if err := unpack(file.Quotation, reflect.ValueOf(&a).Elem(), "quotation"); err != nil {
		return a, err
	}
	return a, nil
}

var timeType = reflect.TypeFor[time.Time]()

// packer packs values, and gathers the long lists of numbers among them for later.
type packer struct{ lists []*list }

// list is a long list of numbers.
type list struct {
	numbers []float64
	text    string // once squeezed
}

// MarshalText implements encoding.TextMarshaler.
func (l *list) MarshalText() ([]byte, error) { return []byte(l.text), nil }

// pack turns a value into what JSON holds.
func (p *packer) pack(v reflect.Value) any {
	if t, ok := v.Interface().(time.Time); ok {
		return t.UTC().Format(time.RFC3339Nano)
	}
	switch v.Kind() {
	case reflect.Float32, reflect.Float64:
		switch f := v.Float(); {
		case math.IsNaN(f):
			return "not known"
		case math.IsInf(f, 1):
			return "no limit"
		case math.IsInf(f, -1):
			return "no lower limit"
		default:
			return f
		}
	case reflect.Struct:
		out := map[string]any{}
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				out[f.Name] = p.pack(v.Field(i))
			}
		}
		return out
	case reflect.Slice, reflect.Array:
		if v.Kind() == reflect.Slice && v.IsNil() {
			return nil
		}
		if numbers, ok := v.Interface().([]float64); ok && len(numbers) >= manyNumbers {
			l := &list{numbers: numbers}
			p.lists = append(p.lists, l)
			return l
		}
		out := make([]any, v.Len())
		for i := range out {
			out[i] = p.pack(v.Index(i))
		}
		return out
	case reflect.Map:
		if v.IsNil() {
			return nil
		}
		out := map[string]any{}
		for _, k := range v.MapKeys() {
			out[k.String()] = p.pack(v.MapIndex(k))
		}
		return out
	case reflect.Pointer:
		if v.IsNil() {
			return nil
		}
		return p.pack(v.Elem())
	}
	return v.Interface()
}

// unpack fills a value from what JSON held. Keys that are not known are left.
func unpack(in any, v reflect.Value, path string) error {
	wrong := func() error { return fmt.Errorf("%s: %v is no %s", path, in, v.Type()) }
	if in == nil {
		return nil
	}
	if v.Type() == timeType {
		s, _ := in.(string)
		t, err := time.Parse(time.RFC3339Nano, s)
		if err != nil {
			return wrong()
		}
		v.Set(reflect.ValueOf(t))
		return nil
	}
	switch v.Kind() {
	case reflect.Float32, reflect.Float64:
		switch x := in.(type) {
		case float64:
			v.SetFloat(x)
		case string:
			f, ok := map[string]float64{"not known": math.NaN(), "no limit": math.Inf(1), "no lower limit": math.Inf(-1)}[x]
			if !ok {
				return wrong()
			}
			v.SetFloat(f)
		default:
			return wrong()
		}
	case reflect.String:
		s, ok := in.(string)
		if !ok {
			return wrong()
		}
		v.SetString(s)
	case reflect.Bool:
		b, ok := in.(bool)
		if !ok {
			return wrong()
		}
		v.SetBool(b)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		f, ok := in.(float64)
		if !ok {
			return wrong()
		}
		v.SetInt(int64(f))
	case reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Uint:
		f, ok := in.(float64)
		if !ok || f < 0 {
			return wrong()
		}
		v.SetUint(uint64(f))
	case reflect.Struct:
		m, ok := in.(map[string]any)
		if !ok {
			return wrong()
		}
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				if err := unpack(m[f.Name], v.Field(i), path+"."+f.Name); err != nil {
					return err
				}
			}
		}
	case reflect.Slice, reflect.Array:
		if text, ok := in.(string); ok && v.Type() == reflect.TypeFor[[]float64]() {
			numbers, err := swell(text)
			if err != nil {
				return fmt.Errorf("%s: %w", path, err)
			}
			v.Set(reflect.ValueOf(numbers))
			return nil
		}
		list, ok := in.([]any)
		if !ok || v.Kind() == reflect.Array && len(list) != v.Len() {
			return wrong()
		}
		if v.Kind() == reflect.Slice {
			v.Set(reflect.MakeSlice(v.Type(), len(list), len(list)))
		}
		for i, x := range list {
			if err := unpack(x, v.Index(i), fmt.Sprintf("%s[%d]", path, i)); err != nil {
				return err
			}
		}
	case reflect.Map:
		m, ok := in.(map[string]any)
		if !ok {
			return wrong()
		}
		v.Set(reflect.MakeMapWithSize(v.Type(), len(m)))
		for k, x := range m {
			e := reflect.New(v.Type().Elem()).Elem()
			if err := unpack(x, e, path+"."+k); err != nil {
				return err
			}
			v.SetMapIndex(reflect.ValueOf(k).Convert(v.Type().Key()), e)
		}
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		return unpack(in, v.Elem(), path)
	default:
		return wrong()
	}
	return nil
}
