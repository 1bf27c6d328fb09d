package leste

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"leste/job"
)

// mattersFrom is the least change of the result, as a ratio, for which a question is worth asking.
const mattersFrom = 1.05

// asks is how many questions are asked first.
const asks = 3

// rank finds for every assumed value with a range how far the binding requirement moves over the range, puts the
// list in that order and asks for the first three.
func (a *assessment) rank(ctx context.Context) error {
	b, err := a.newBench(ctx)
	if err != nil {
		return err
	}
	list := a.result.Assumed
	err = a.each(len(list), func(i int) error {
		if !ranked(list[i]) {
			return nil
		}
		low, err := b.at(ctx, list[i].Path, list[i].Low)
		if err != nil {
			return err
		}
		high, err := b.at(ctx, list[i].Path, list[i].High)
		if err != nil {
			return err
		}
		list[i].Matters = swing(b.measured, low, high)
		return nil
	})
	if err != nil {
		return err
	}
	slices.SortStableFunc(list, func(x, y job.Assumed) int {
		switch {
		case x.Matters > y.Matters:
			return -1
		case x.Matters < y.Matters:
			return 1
		}
		return 0
	})
	for _, v := range list {
		if len(a.result.Ask) == asks || v.Matters < mattersFrom {
			break
		}
		if !answerable(v.Path) {
			continue
		}
		a.result.Ask = append(a.result.Ask, question(v))
	}
	return nil
}

// ranked says whether an assumed value can move the water left.
func ranked(v job.Assumed) bool {
	if v.Low == "" || v.High == "" {
		return false
	}
	for _, p := range []string{"/line/", "/arrives/", "/formats/", "/model/", "/next/", "/stations/", "/site/summer/", "/site/altitude"} {
		if strings.HasPrefix(v.Path, p) {
			return !strings.HasPrefix(v.Path, "/line/belt/")
		}
	}
	return false
}

// at measures the job with one value set.
func (b *bench) at(ctx context.Context, path, text string) (float64, error) {
	m, _, err := b.try(ctx, variation{
		change: func(j *job.Job) bool {
			// A value below a list that only filling makes (requirements from a complaint) is set on the filled job.
			if err := job.SetValue(j, path, text); err == nil {
				return true
			}
			job.Fill(j)
			return job.SetValue(j, path, text) == nil
		},
		asSeen:  keepsAir(path),
		inPlace: keepsPlace(path),
	})
	return m, err
}

// keepsAir says that the air on the container does not depend on a value.
func keepsAir(path string) bool {
	for _, p := range []string{"/model/", "/next/", "/arrives/", "/site/summer/"} {
		if strings.HasPrefix(path, p) {
			return true
		}
	}
	return strings.HasSuffix(path, "/speed") || strings.HasSuffix(path, "product_temperature")
}

// keepsPlace says that nothing that is laid out depends on a value.
func keepsPlace(path string) bool {
	return keepsAir(path) && !strings.HasSuffix(path, "/speed")
}

// swing is the ratio of the largest to the smallest of three measures, those that could not be had left out.
// Nothing against something counts as a thousand.
func swing(base, low, high float64) float64 {
	const most = 1e3
	small, large := base, base
	for _, v := range []float64{low, high} {
		if !math.IsNaN(v) {
			small, large = min(small, v), max(large, v)
		}
	}
	switch {
	case large <= 0 || math.IsNaN(large):
		return 1
	case small <= large/most:
		return most
	}
	return large / small
}

// answerable says whether somebody at the plant can tell a value. Settings of the water model come from trials alone.
func answerable(path string) bool { return !strings.HasPrefix(path, "/model/") }

// question asks for one value.
func question(v job.Assumed) string {
	what := words(v.Path)
	if doc := strings.TrimSuffix(job.Doc(v.Path), "."); doc != "" {
		what += ", " + lowered(doc)
	}
	return fmt.Sprintf("%s: %s was assumed (%s to %s); over that range the deciding result changes by a factor of %.2g",
		what, v.Value, v.Low, v.High, v.Matters)
}

// lowered begins a sentence as a part of another; what is written in capitals stays.
func lowered(sentence string) string {
	first, size := utf8.DecodeRuneInString(sentence)
	next, _ := utf8.DecodeRuneInString(sentence[size:])
	if size == 0 || unicode.IsUpper(next) {
		return sentence
	}
	return string(unicode.ToLower(first)) + sentence[size:]
}

// singular calls one of a list of the job file by its number.
var singular = map[string]string{
	"formats": "format", "stations": "station", "outlets": "outlet", "rails": "rail", "next": "next machine", "requires": "requirement", "frames": "frame",
	"obstacles": "obstacle", "settings": "setting", "crevices": "crevice", "pools": "pool",
}

// words turns a path of the job file into words: /formats/0/product_temperature becomes "product temperature
// (format 1)".
func words(path string) string {
	parts := strings.Split(strings.TrimPrefix(path, "/"), "/")
	last := strings.ReplaceAll(parts[len(parts)-1], "_", " ")
	var above []string
	for _, p := range parts[:len(parts)-1] {
		if n := number(p); n >= 0 && len(above) > 0 {
			list := above[len(above)-1]
			if one := singular[list]; one != "" {
				list = one
			}
			above[len(above)-1] = fmt.Sprintf("%s %d", list, n+1)
			continue
		}
		above = append(above, strings.ReplaceAll(p, "_", " "))
	}
	if len(above) == 0 {
		return last
	}
	return last + " (" + strings.Join(above, ", ") + ")"
}

// number reads an index, -1 when it is none.
func number(s string) int {
	n := 0
	for _, c := range s {
		if c < '0' || c > '9' {
			return -1
		}
		n = n*10 + int(c-'0')
	}
	if s == "" {
		return -1
	}
	return n
}
