package conf

import (
	"strings"

	"strapwork/pkg/unit"
)

// column is where the remarks of a written file begin.
const column = 32

// Written is a key's line in a file that shows what there is to write: with a value, or
// with "" as a remark that shows the default, or else an example. Behind it stands what
// the key is, takes and may be.
func (k Key) Written(u unit.System, value string) string {
	line := k.Name + " = " + value
	if value == "" {
		shown := k.Default.In(u)
		if shown == "" {
			shown = k.Example.In(u)
		}
		line = "# " + k.Name + " = " + shown
	}
	last := line[strings.LastIndexByte(line, '\n')+1:]
	return line + strings.Repeat(" ", max(1, column-len(last))) + "# " + k.Help + " (" + k.Takes() + k.bounds() + ")\n"
}

// IsTable reports whether the key is a table, or a list of tables.
func (k Key) IsTable() bool { return k.leaf() == formTable }

// Serves reports whether a guide has a use for the key.
func (k Key) Serves(guide string) bool { return k.serves(guide) }
