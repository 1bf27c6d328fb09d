package job

// Check judges whether the values of a file fit together, as far as that can be told without the
// catalogue and without geometry.
func Check(f *File) Problems { return nil }
