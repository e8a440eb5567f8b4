package fromdxf_test

import (
	"fmt"
	"strings"
)

// tagged is groups as they stand in a file: codes and values in turn. A word where a
// code should be begins an entity, or ends something: it is group 0.
func tagged(groups ...any) string {
	var b strings.Builder
	for i := 0; i < len(groups); i++ {
		if word, ok := groups[i].(string); ok {
			fmt.Fprintf(&b, "  0\n%s\n", word)
			continue
		}
		fmt.Fprintf(&b, "%3d\n%v\n", groups[i], groups[i+1])
		i++
	}
	return b.String()
}

// section is a section of a file.
func section(name string, groups ...any) string {
	return tagged("SECTION", 2, name) + tagged(groups...) + tagged("ENDSEC")
}

// file is a file of sections.
func file(sections ...string) []byte {
	return []byte(strings.Join(sections, "") + tagged("EOF"))
}

// entities is a file of nothing but entities.
func entities(groups ...any) []byte { return file(section("ENTITIES", groups...)) }
