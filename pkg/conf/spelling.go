package conf

import "strings"

// Keys are written in American spelling, and read in British as well.

var (
	toAmerican = strings.NewReplacer("centre", "center", "colour", "color")
	toBritish  = strings.NewReplacer("center", "centre", "color", "colour")
)

// american renames a table's keys that are in British spelling, where the format has
// them in American, and says where both are given.
func (r *Reader) american(t *Table, v *Value) {
	for i, f := range v.Fields {
		name := toAmerican.Replace(f.Name)
		if name == f.Name || t.Key(name) == nil {
			continue
		}
		if v.Get(name) != nil {
			r.FaultAt(f.Off, Duplicate, "%s and %s are both given", f.Name, name).Hintf("remove one of them").Key = f.Value.Key()
		} else {
			v.index[name] = i
		}
		v.Fields[i].Name, f.Value.name = name, name
	}
}
