package job

// An Assumed value is one that nobody gave.
type Assumed struct {
	Path    string  // where it would stand in the file, e.g. /arrives/water
	Value   string  // the default with its unit
	Low     string  // low end of its range, "" when it has none
	High    string  // high end
	Source  string  // what the default rests on
	Matters float64 // effect on the verdict: the ratio of water left over the range, 1 = none; 0 = not ranked
}
