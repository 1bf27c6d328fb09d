package text

import (
	"strings"

	"charm.land/lipgloss/v2"

	leste "leste"
	q "leste/quantity"
)

// Style is how a report is written.
type Style struct {
	Units  q.System
	Colour bool // escape codes for colours are welcome
	Width  int  // characters; 0 means 100
	Rows   int  // of the list of assumed values; 0 means all
	names  []string
}

func (s Style) width() int {
	if s.Width <= 0 {
		return 100
	}
	return s.Width
}

// The colours are of the terminal's own palette, so that they fit its background.
var (
	good    = lipgloss.NewStyle().Bold(true).Foreground(lipgloss.Green)
	bad     = lipgloss.NewStyle().Bold(true).Foreground(lipgloss.Red)
	unsure  = lipgloss.NewStyle().Bold(true).Foreground(lipgloss.Yellow)
	heading = lipgloss.NewStyle().Bold(true)
	faint   = lipgloss.NewStyle().Faint(true)
)

func (s Style) paint(style lipgloss.Style, text string) string {
	if !s.Colour {
		return text
	}
	return style.Render(text)
}

// verdict colours a verdict.
func (s Style) verdict(v leste.Verdict) string {
	switch v {
	case leste.Met:
		return s.paint(good, string(v))
	case leste.NotMet:
		return s.paint(bad, string(v))
	case "":
		return "not judged"
	}
	return s.paint(unsure, string(v))
}

// trimRight removes the blanks at the ends of lines.
func trimRight(text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		end := strings.TrimRight(line, " \n")
		b.WriteString(end)
		if strings.HasSuffix(line, "\n") {
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// paragraph wraps one text to the width, later lines indented.
func (s Style) paragraph(first, text string) string {
	indent := strings.Repeat(" ", len([]rune(first)))
	body := lipgloss.NewStyle().Width(max(20, s.width()-len(indent))).Render(text)
	var b strings.Builder
	for i, line := range strings.Split(body, "\n") {
		if i == 0 {
			b.WriteString(first)
		} else {
			b.WriteString(indent)
		}
		b.WriteString(strings.TrimRight(line, " "))
		b.WriteByte('\n')
	}
	return b.String()
}

// section is a heading with its body; nothing when the body is empty.
func (s Style) section(title, body string) string {
	if body == "" {
		return ""
	}
	return "\n" + s.paint(heading, title) + "\n" + body
}

// bullets writes one wrapped line for each text.
func (s Style) bullets(texts []string) string {
	var b strings.Builder
	for _, t := range texts {
		b.WriteString(s.paragraph("  - ", t))
	}
	return b.String()
}
