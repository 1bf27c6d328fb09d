package words

import "regexp"

const aName = `\p{Lu}[\p{L}'’-]+(?: \p{Lu}[\p{L}'’-]+)?`

var (
	// authors are those that a citation begins with; titles stay in the language they were written in.
	authors = regexp.MustCompile(`^(` + aName + `(?:, ` + aName + `)*) and (others|` + aName + `)(,| \()`)
	// further is the author of another work, after the year of the one before.
	further = regexp.MustCompile(`(\(\d{4}\)),? and (` + aName + `)(,| \()`)
)

// Cite joins the authors of a citation as the language does.
func (w Words) Cite(citation string) string {
	if w.Language == languages[0] {
		return citation
	}
	citation = authors.ReplaceAllStringFunc(citation, func(s string) string {
		m := authors.FindStringSubmatch(s)
		if m[2] == "others" {
			return m[1] + " " + w.T("cite.others") + m[3]
		}
		return m[1] + " " + w.T("cite.and") + " " + m[2] + m[3]
	})
	return further.ReplaceAllString(citation, "$1 "+w.T("cite.and")+" $2$3")
}
