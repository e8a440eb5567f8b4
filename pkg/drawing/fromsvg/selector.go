package fromsvg

import (
	"slices"
	"strings"

	"github.com/tdewolff/parse/v2"
	"github.com/tdewolff/parse/v2/css"
)

// A selector is its parts from left to right: Selectors 3, of which names, *, ids,
// classes, descendants and children are read.
type selector []compound

// A compound is one part of a selector.
type compound struct {
	name    string // "" for any
	id      string
	classes []string
	root    bool // :root
	child   bool // of what the part before it stands for, and no deeper descendant
}

// understood says what was made of a selector's text.
type understood int

const (
	readable understood = iota
	never               // it asks for a pointer or a link that was visited
	strange             // it asks for what isn't read
)

// weight is the specificity.
func (s selector) weight() int {
	const ids, classes = 1 << 40, 1 << 20
	w := 0
	for _, c := range s {
		w += len(c.classes) * classes
		if c.id != "" {
			w += ids
		}
		if c.root {
			w += classes
		}
		if c.name != "" {
			w++
		}
	}
	return w
}

// fleeting are the pseudo-classes that nothing has in a drawing that lies still.
var fleeting = []string{"hover", "active", "focus", "visited", "target", "focus-within", "focus-visible"}

// parseSelector reads one selector.
func parseSelector(text string) (selector, understood) {
	if strings.Contains(text, `\`) {
		return nil, strange // escapes are not undone
	}
	lexer := css.NewLexer(parse.NewInputString(text))
	s := selector{{}}
	begun, kind := false, readable // begun: the last part has something in it
	for {
		token, data := lexer.Next()
		last := &s[len(s)-1]
		switch {
		case token == css.ErrorToken:
			if !begun {
				return nil, strange
			}
			return s, kind
		case token == css.CommentToken:
		case token == css.WhitespaceToken:
			begun = next(&s, begun)
		case token == css.DelimToken && data[0] == '>':
			begun = next(&s, begun)
			s[len(s)-1].child = true
			if len(s) == 1 {
				return nil, strange
			}
		case token == css.IdentToken && !begun:
			last.name, begun = string(data), true
		case token == css.DelimToken && data[0] == '*' && !begun:
			begun = true
		case token == css.HashToken && last.id == "":
			last.id, begun = string(data[1:]), true
		case token == css.DelimToken && data[0] == '.':
			if token, data = lexer.Next(); token != css.IdentToken {
				return nil, strange
			}
			last.classes, begun = append(last.classes, string(data)), true
		case token == css.ColonToken:
			_, data = lexer.Next()
			switch name := strings.ToLower(string(data)); {
			case name == "root":
				last.root, begun = true, true
			case slices.Contains(fleeting, name):
				kind, begun = never, true
			default:
				return nil, strange
			}
		default:
			return nil, strange
		}
	}
}

// next begins another part if the last one has something in it.
func next(s *selector, begun bool) bool {
	if begun {
		*s = append(*s, compound{})
	}
	return false
}

// matches reports whether a part stands for an element.
func (c *compound) matches(n *node) bool {
	if c.name != "" && c.name != n.name || c.id != "" && c.id != n.id || c.root && n.parent != nil {
		return false
	}
	return !slices.ContainsFunc(c.classes, func(class string) bool { return !slices.Contains(n.classes, class) })
}

// matches reports whether a selector stands for an element. Elements drawn by <use> are
// matched where they stand in the file (SVG 1.1, section 5.6).
func (r *reader) matches(s selector, n *node) bool {
	last := &s[len(s)-1]
	if r.matching += 1 + len(last.classes)*len(n.classes)/4; r.matching > maxMatching {
		r.halt(n.offset, "the drawing's style sheets take too long to work out").Hintf("leave out the rules that the motif doesn't need")
		return false
	}
	if !last.matches(n) {
		return false
	}
	if len(s) == 1 {
		return true
	}
	for up := n.parent; up != nil; up = up.parent {
		if r.matches(s[:len(s)-1], up) {
			return true
		}
		if last.child {
			break
		}
	}
	return false
}
