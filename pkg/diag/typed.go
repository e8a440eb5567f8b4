package diag

import "strings"

// Typed is a file's name as it is typed in a command: in quotes where a shell
// would take it apart. Double quotes serve on every system.
func Typed(name string) string {
	const special = " \t&|;<>()[]{}*?!~#=%^,'`$\""
	if name != "" && !strings.ContainsAny(name, special) {
		return name
	}
	if strings.ContainsAny(name, "\"$`!") && !strings.Contains(name, "'") {
		return "'" + name + "'" // no such name is possible on Windows, or usual
	}
	return `"` + name + `"`
}
