package cli

import (
	"fmt"
	"strings"
)

type manualDocument struct {
	document
	Manual string `json:"manual"`
}

// manual is the manual page, section 1, in the macros of man(7), from the same tables
// as help.
func manual() string {
	var b strings.Builder
	b.WriteString(".TH STRAPWORK 1\n.SH NAME\nstrapwork \\- router templates for interlaced strip inlay\n.SH SYNOPSIS\n")
	for i, c := range commands() {
		if i > 0 {
			b.WriteString(".br\n")
		}
		b.WriteString(".B strapwork " + roff(c.name) + "\n")
		if c.args != "" {
			b.WriteString(roff(c.args) + "\n")
		}
	}
	b.WriteString(".SH DESCRIPTION\n" + paragraphs(about) + ".PP\nTo start:\n" + verbatim(firstSteps) + ".SH COMMANDS\n")
	for _, c := range commands() {
		b.WriteString(".SS " + quoted(c.usage()) + "\n" + paragraphs(sentence(c.about)+".") + paragraphs(c.text))
		for _, f := range c.flags {
			b.WriteString(".TP\n.B " + quoted(f.typed()) + "\n" + roff(f.about) + "\n")
		}
		b.WriteString(paragraphs(c.after))
	}
	b.WriteString(".SH EXIT STATUS\n" + paragraphs(exitStatus) + ".SH SAFETY\n" + paragraphs(safety))
	return b.String()
}

// safety closes the manual page, as what is printed elsewhere has it in full.
const safety = `Routers and cutting machines throw parts and grab sleeves. Try everything in scrap first. The manuals of your
machines, the rules where you work and people trained on them come before anything printed here.
`

// roff is a text that is printed as it is: no line of it is a request, and hyphens stay
// what can be typed.
func roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(text)
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'") {
			lines[i] = `\&` + l
		}
	}
	return strings.Join(lines, "\n")
}

// quoted is a text as one argument of a request.
func quoted(text string) string { return `"` + strings.ReplaceAll(roff(text), `"`, `\(dq`) + `"` }

// paragraphs are a text's, divided by its blank lines.
func paragraphs(text string) string {
	var b strings.Builder
	for p := range strings.SplitSeq(strings.TrimSpace(text), "\n\n") {
		if p != "" {
			fmt.Fprintf(&b, ".PP\n%s\n", roff(p))
		}
	}
	return b.String()
}

// verbatim is a text whose lines stay.
func verbatim(text string) string {
	return ".PP\n.nf\n" + roff(strings.TrimRight(text, "\n")) + "\n.fi\n"
}

// sentence is a text with a capital at its head.
func sentence(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
