package relation

// Severity says what a note asks of the reader.
type Severity string

// The severities, mildest first.
const (
	Info    Severity = "info"    // worth knowing, changes nothing
	Caution Severity = "caution" // the number is less sure than its band says
	Outside Severity = "outside" // a relation was used outside its range
	Stop    Severity = "stop"    // no number is given
)

// A Note is what a result says about its own validity. Value and Limit are in Unit; both are NaN when the
// note is not about a number.
type Note struct {
	Severity Severity
	Relation string // card ID, or "" when no single relation is meant
	Text     string // one sentence, without its full stop
	Value    float64
	Limit    float64
	Unit     string
}
