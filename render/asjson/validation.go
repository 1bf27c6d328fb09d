package asjson

import "leste/validation"

type check struct {
	ID        string  `json:"id"`
	Relation  string  `json:"relation"`
	Source    *string `json:"source"`
	Basis     string  `json:"basis"`
	Expected  number  `json:"expected"`
	Computed  number  `json:"computed"`
	Tolerance number  `json:"tolerance"`
	Unit      string  `json:"unit"`
	Pass      bool    `json:"pass"`
}

// Validation writes rows of reference values, with how many rows there are in all and how many do not pass.
func Validation(rows []validation.Row, all, failed int) ([]byte, error) {
	return document(map[string]any{
		"schema": "leste-validate-1",
		"rows": list(rows, func(r validation.Row) check {
			return check{
				r.ID, r.Relation, text(r.Source), string(r.Basis), number(r.Expected), number(r.Computed),
				number(r.Tolerance), r.Unit, r.Pass(),
			}
		}),
		"count": all, "failed": failed,
	})
}
