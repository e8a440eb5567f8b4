package deps

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path"
	"slices"
	"testing"
)

// TestEveryValueHasItsWord: a table of an enumeration's words, which is what unit.Word
// reads, has one for each of its constants.
func TestEveryValueHasItsWord(t *testing.T) {
	rooms := map[string][]*ast.File{}
	eachFile(t, func(name string, _ *token.FileSet, file *ast.File) {
		rooms[path.Dir(name)] = append(rooms[path.Dir(name)], file)
	})
	tables := 0
	for room, files := range rooms {
		n, faults := wordless(files)
		tables += n
		for _, name := range faults {
			t.Errorf("%s: %s has no word", room, name)
		}
	}
	if tables == 0 {
		t.Error("no tables of words were found")
	}
}

// wordless lists constants of a package that a table of strings leaves out though it
// has others of the same type, and how many tables there are.
func wordless(files []*ast.File) (tables int, faults []string) {
	groups := map[string][]string{} // by each constant, all of its block
	for _, f := range files {
		for _, d := range f.Decls {
			if g, ok := d.(*ast.GenDecl); ok && g.Tok == token.CONST {
				names := enumeration(g)
				for _, n := range names {
					groups[n] = names
				}
			}
		}
	}
	for _, f := range files {
		ast.Inspect(f, func(n ast.Node) bool {
			if keys := tableKeys(n); len(keys) > 0 {
				tables++
				for _, name := range groups[keys[0]] {
					if !slices.Contains(keys, name) {
						faults = append(faults, name)
					}
				}
			}
			return true
		})
	}
	return tables, faults
}

// enumeration lists the names of a block of constants that iota counts.
func enumeration(g *ast.GenDecl) (names []string) {
	for i, spec := range g.Specs {
		v := spec.(*ast.ValueSpec)
		if i == 0 {
			if len(v.Values) != 1 {
				return nil
			}
			if x, ok := v.Values[0].(*ast.Ident); !ok || x.Name != "iota" {
				return nil
			}
		}
		for _, n := range v.Names {
			if n.Name != "_" {
				names = append(names, n.Name)
			}
		}
	}
	return names
}

// tableKeys are the keys of an array of strings of no stated length, if all are names.
func tableKeys(n ast.Node) (keys []string) {
	lit, ok := n.(*ast.CompositeLit)
	if !ok {
		return nil
	}
	array, ok := lit.Type.(*ast.ArrayType)
	if !ok {
		return nil
	}
	if _, open := array.Len.(*ast.Ellipsis); !open {
		return nil
	}
	for _, e := range lit.Elts {
		pair, ok := e.(*ast.KeyValueExpr)
		if !ok {
			return nil
		}
		key, ok := pair.Key.(*ast.Ident)
		if !ok {
			return nil
		}
		keys = append(keys, key.Name)
	}
	return keys
}

// A table with a hole is found.
func TestWordlessIsFound(t *testing.T) {
	const consts = "package a\ntype k int\nconst (\nA k = iota\nB\nC\n)\n"
	for source, want := range map[string]int{
		`var w = [...]string{A: "a", B: "b", C: "c"}`: 0,
		`var w = [...]string{A: "a", C: "c"}`:         1,
		`var w = [...]string{"a", "c"}`:               0,
	} {
		file, err := parser.ParseFile(token.NewFileSet(), "a.go", consts+source, 0)
		if err != nil {
			t.Fatal(err)
		}
		if _, faults := wordless([]*ast.File{file}); len(faults) != want {
			t.Errorf("%s: %v, want %d", source, faults, want)
		}
	}
}
