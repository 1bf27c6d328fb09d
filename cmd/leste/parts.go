package main

import (
	"errors"
	"fmt"
	"os"

	"leste/catalogue"
)

// ownParts reads lists of the user's own blowers, filters and hoses. A kind of part that none of them holds comes from
// the generic set; no file at all is nil.
func ownParts(files []string) (*catalogue.Parts, error) {
	if len(files) == 0 {
		return nil, nil
	}
	own := &catalogue.Parts{}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			return nil, wrongInput(err, "the list of parts cannot be read")
		}
		if errs := catalogue.ReadParts(name, data, own); len(errs) > 0 {
			const most = 6 // mistakes that are told at once
			if more := len(errs) - most; more > 0 {
				errs = append(errs[:most], fmt.Errorf("and %d more %s", more, plural(more, "mistake", "mistakes")))
			}
			return nil, wrongInput(errors.Join(errs...), "the list of parts cannot be used")
		}
	}
	generic := catalogue.GenericParts()
	if len(own.Blowers) == 0 {
		own.Blowers = generic.Blowers
	}
	if len(own.Filters) == 0 {
		own.Filters = generic.Filters
	}
	if len(own.Hoses) == 0 {
		own.Hoses = generic.Hoses
	}
	return own, nil
}
