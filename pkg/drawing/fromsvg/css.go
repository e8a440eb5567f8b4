package fromsvg

import (
	"strings"

	"github.com/tdewolff/parse/v2"
	"github.com/tdewolff/parse/v2/css"
)

// A declaration is what a style sheet, a style attribute or an attribute sets a property
// to.
type declaration struct {
	value     string
	important bool
	text      []chunk // that it stands in
	at        int     // and where in that
}

// offset is where a byte of the value stands in the file.
func (r *reader) offset(d declaration, at int) int {
	at += d.at
	for i, part := range d.text {
		if at <= len(part.text) || i == len(d.text)-1 {
			return r.within(part.offset, at)
		}
		at -= len(part.text)
	}
	return -1
}

// A sheet is the rules of all style sheets, in their order, by what the last part of
// their selectors asks for first.
type sheet struct {
	byID, byClass, byName map[string][]*rule
	others                []*rule
	count                 int
}

// A rule is one selector with what it sets.
type rule struct {
	selector selector
	weight   int // specificity: ids, classes and names (Selectors 3, section 9)
	order    int
	sets     map[string]declaration
}

// A cssReader goes through the tokens of a style sheet (CSS Syntax 3).
type cssReader struct {
	*reader
	lexer  *css.Lexer
	kind   css.TokenType
	data   string
	at     int // of the token in the text
	next   int
	chunks []chunk
}

// newCSS begins to read text that stands in the file in chunks.
func (r *reader) newCSS(chunks []chunk) *cssReader {
	var text strings.Builder
	for _, c := range chunks {
		text.WriteString(c.text)
	}
	c := &cssReader{reader: r, lexer: css.NewLexer(parse.NewInputString(text.String())), chunks: chunks}
	c.step()
	return c
}

// step goes to the next token; comments are left out.
func (c *cssReader) step() {
	for {
		kind, data := c.lexer.Next()
		c.kind, c.data, c.at = kind, string(data), c.next
		c.next += len(data)
		if kind != css.CommentToken {
			return
		}
	}
}

// place is where a byte of the text stands in the file.
func (c *cssReader) place(at int) int { return c.offset(declaration{text: c.chunks}, at) }

func (c *cssReader) ended() bool { return c.kind == css.ErrorToken }

// spaces goes past white space and the marks of HTML comments.
func (c *cssReader) spaces() {
	for c.kind == css.WhitespaceToken || c.kind == css.CDOToken || c.kind == css.CDCToken {
		c.step()
	}
}

// readSheet reads a <style> element.
func (r *reader) readSheet(n *node) {
	if kind := strings.TrimSpace(n.value("type")); kind != "" && !strings.EqualFold(kind, "text/css") {
		r.warnAt(n.offset, ruleStyle, "a style sheet of type %s is not read", clip(kind))
		return
	}
	if !forScreen(n.value("media")) {
		return
	}
	c := r.newCSS(n.text)
	for c.spaces(); !c.ended() && !r.full(); c.spaces() {
		c.statement()
	}
}

// forScreen reports whether a list of media holds what a drawing is looked at on.
func forScreen(media string) bool {
	if strings.TrimSpace(media) == "" {
		return true
	}
	for _, one := range strings.Split(media, ",") {
		one = strings.ToLower(strings.TrimSpace(one))
		if one == "all" || one == "screen" {
			return true
		}
	}
	return false
}

// statement reads a rule or an at-rule.
func (c *cssReader) statement() {
	switch c.kind {
	case css.AtKeywordToken:
		c.atRule()
	case css.RightBraceToken, css.SemicolonToken:
		c.step() // left over, or the end of @media
	default:
		at := c.at
		prelude := c.until(css.LeftBraceToken)
		if c.ended() {
			return
		}
		c.step()
		c.addRules(prelude, at, c.declarations(true))
	}
}

// atRule reads @media for screens as if it weren't there, refuses @import, and passes over
// all others.
func (c *cssReader) atRule() {
	name, at := strings.ToLower(c.data), c.at
	c.step()
	prelude := c.until(css.LeftBraceToken, css.SemicolonToken)
	switch {
	case name == "@import":
		c.errorAt(c.place(at), ruleReference, "the drawing's style is in another file, which is not read").
			Hintf("save it as plain SVG, with its style in it")
	case name == "@media" && forScreen(prelude):
		c.step()
		return
	}
	if c.kind == css.LeftBraceToken {
		c.block()
	}
}

// block goes past a block in braces, whatever is in it.
func (c *cssReader) block() {
	deep := 0
	for ; !c.ended(); c.step() {
		switch c.kind {
		case css.LeftBraceToken:
			deep++
		case css.RightBraceToken:
			deep--
		}
		if deep == 0 {
			c.step()
			return
		}
	}
}

// until is the text up to a token of one of these kinds.
func (c *cssReader) until(kinds ...css.TokenType) string {
	var b strings.Builder
	for !c.ended() {
		for _, k := range kinds {
			if c.kind == k {
				return b.String()
			}
		}
		b.WriteString(c.data)
		c.step()
	}
	return b.String()
}

// declarations reads what is set, to the end of the block or of the text. Of two for one
// property the later counts, unless the first is important.
func (c *cssReader) declarations(braces bool) map[string]declaration {
	sets := map[string]declaration{}
	for !c.ended() && !c.full() {
		c.spaces()
		if braces && c.kind == css.RightBraceToken {
			c.step()
			break
		}
		if c.kind == css.LeftBraceToken {
			c.block()
			continue
		}
		name := strings.ToLower(c.data)
		isName := c.kind == css.IdentToken
		c.step()
		c.spaces()
		if isName && c.kind == css.ColonToken {
			c.declaration(name, braces, sets)
		}
	}
	return sets
}

// declaration reads the value of a property, at its colon.
func (c *cssReader) declaration(name string, braces bool, sets map[string]declaration) {
	c.step()
	c.spaces()
	at := c.at
	var b strings.Builder
	for deep := 0; !c.ended(); c.step() {
		if deep <= 0 && (c.kind == css.SemicolonToken || braces && c.kind == css.RightBraceToken) {
			break
		}
		switch c.kind {
		case css.LeftParenthesisToken, css.FunctionToken, css.LeftBracketToken, css.LeftBraceToken:
			deep++
		case css.RightParenthesisToken, css.RightBracketToken, css.RightBraceToken:
			deep--
		}
		b.WriteString(c.data)
	}
	if c.kind == css.SemicolonToken {
		c.step()
	}
	if !properties[name] {
		return
	}
	if c.declared++; c.declared > maxDeclared {
		c.halt(c.place(at), "the drawing's style sheets set more than %d properties", maxDeclared).Hintf("leave out what isn't the motif")
		return
	}
	value, important := cutImportant(strings.TrimSpace(b.String()))
	if before, twice := sets[name]; !twice || important || !before.important {
		sets[name] = declaration{value, important, c.chunks, at}
	}
}

// cutImportant takes "!important" from the end of a value.
func cutImportant(value string) (string, bool) {
	i := strings.LastIndexByte(value, '!')
	if i < 0 || !strings.EqualFold(strings.TrimSpace(value[i+1:]), "important") {
		return value, false
	}
	return strings.TrimSpace(value[:i]), true
}

// addRules adds a rule for each selector of a list.
func (c *cssReader) addRules(prelude string, at int, sets map[string]declaration) {
	if len(sets) == 0 {
		return
	}
	list := strings.Split(prelude, ",")
	if strings.ContainsAny(prelude, ";}") {
		list = []string{prelude} // a rule before it isn't ended: none of it is right
	}
	for _, text := range list {
		if c.sheet.count++; c.sheet.count > maxRules {
			c.halt(c.place(at), "the drawing's style sheets have more than %d selectors", maxRules).Hintf("leave out what isn't the motif")
			return
		}
		s, kind := parseSelector(strings.TrimSpace(text))
		switch kind {
		case readable:
			c.sheet.add(&rule{selector: s, weight: s.weight(), order: c.sheet.count, sets: sets})
		case never:
		case strange:
			c.warnAt(c.place(at), ruleStyle, "the selector %q is not understood, and what it sets is left out", clip(strings.TrimSpace(text))).
				Hintf("write the style beside what it is about, or name that by an id or a class")
		}
	}
}

func (s *sheet) add(r *rule) {
	if s.byID == nil {
		s.byID, s.byClass, s.byName = map[string][]*rule{}, map[string][]*rule{}, map[string][]*rule{}
	}
	switch last := r.selector[len(r.selector)-1]; {
	case last.id != "":
		s.byID[last.id] = append(s.byID[last.id], r)
	case len(last.classes) > 0:
		s.byClass[last.classes[0]] = append(s.byClass[last.classes[0]], r)
	case last.name != "":
		s.byName[last.name] = append(s.byName[last.name], r)
	default:
		s.others = append(s.others, r)
	}
}
