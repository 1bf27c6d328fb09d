package quantity

// Maybe is a value that may not be known. The zero value is "not known".
//
// V may hold a default when Known is false: the assumption is then listed in the result, and code that
// computes reads V without asking.
type Maybe[T any] struct {
	V     T
	Known bool
}

// Known returns a value somebody gave.
func Known[T any](v T) Maybe[T] { return Maybe[T]{V: v, Known: true} }

// Assume sets V to the default v unless the value is known, and reports whether it did.
func (m *Maybe[T]) Assume(v T) bool {
	if m.Known {
		return false
	}
	m.V = v
	return true
}

// Band is a likely value with its low and high ends. Low <= Likely <= High.
type Band struct {
	Likely, Low, High float64
}
