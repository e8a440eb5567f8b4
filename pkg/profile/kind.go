package profile

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
	"strapwork/profiles"
)

// kind is what a profile is of.
type kind int

const (
	kindShop kind = iota // has no kind key
	kindMachine
	kindBit
	kindMaterial
)

var kindWords = [...]string{
	kindShop:     "shop",
	kindMachine:  "machine",
	kindBit:      "bit",
	kindMaterial: "material",
}

// String is the word for a profile's kind in the file; a shop's has none.
func (k kind) String() string { return unit.Word(kindWords[:], k, "kind") }

const (
	machinePrefix = "machine-" // of a machine's file and of its name
	bitPrefix     = "bit-"     // of a bit's file, not of its name
	// materialFolder has the materials, each called like its wood or metal with hyphens
	// in place of spaces.
	materialFolder = "materials/"
)

// namesOf are the names of the built-in profiles of a kind, in order.
func namesOf(k kind) []string {
	var list []string
	if k == kindMaterial {
		files, _ := fs.Glob(profiles.Files, materialFolder+"*.toml")
		for _, f := range files {
			list = append(list, strings.ReplaceAll(strings.TrimSuffix(path.Base(f), ".toml"), "-", " "))
		}
		return list
	}
	files, _ := fs.Glob(profiles.Files, "*.toml")
	for _, f := range files {
		name := strings.TrimSuffix(f, ".toml")
		short, bit := strings.CutPrefix(name, bitPrefix)
		machine := strings.HasPrefix(name, machinePrefix)
		switch {
		case k == kindBit && bit:
			list = append(list, short)
		case k == kindMachine && machine, k == kindShop && !machine && !bit:
			list = append(list, name)
		}
	}
	slices.Sort(list)
	return list
}

// open finds the text of a profile and the name of its file.
func open(k kind, name string, readFile func(path string) ([]byte, error)) (data []byte, file string, err error) {
	var found diag.Findings
	if IsPath(name) {
		if data, err = readFile(name); err == nil {
			return data, name, nil
		}
		found.ErrorAt(diag.Position{}, RuleUnknown, "the profile %q cannot be read: %v", name, err).
			Hintf("a path is taken from the job file's folder")
		return nil, "", found
	}
	names := namesOf(k)
	if slices.Contains(names, name) {
		file := k.file(name)
		data, err := profiles.Files.ReadFile(file)
		return data, path.Join("profiles", file), err
	}
	found.ErrorAt(diag.Position{}, RuleUnknown, "there is no %s %q", k.called(), name).Hintf("%s", k.known(name, names))
	return nil, "", found
}

// file is the file of a built-in profile.
func (k kind) file(name string) string {
	switch k {
	case kindShop, kindMachine:
	case kindBit:
		name = bitPrefix + name
	case kindMaterial:
		name = materialFolder + strings.ReplaceAll(name, " ", "-")
	}
	return name + ".toml"
}

// called is what a profile of the kind is called in messages.
func (k kind) called() string {
	switch k {
	case kindShop:
		return "profile"
	case kindMachine, kindBit, kindMaterial:
		return k.String() + "'s profile"
	}
	return k.String()
}

// known is the hint for a name that isn't among those of the kind.
func (k kind) known(name string, names []string) string {
	hint := "built in are " + strings.Join(names, ", ") + "; or give a path to a .toml file"
	if near := diag.Nearest(strings.ToLower(name), names); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	for other := kindShop; other <= kindMaterial; other++ {
		if other != k && slices.Contains(namesOf(other), name) {
			return fmt.Sprintf("%q is a %s's; ", name, other) + hint
		}
	}
	return hint
}

// isOf reports whether a file says that it is of a kind; if not that is reported.
func isOf(r *conf.Reader, k kind) bool {
	v := r.Root.Get("kind")
	switch {
	case v == nil:
		r.FaultAt(conf.Top, conf.Missing, "the profile doesn't say what it is of").Hintf("write kind = %q at its top", k)
	case v.Text != k.String():
		r.Faultf(v, conf.BadValue, "the profile is of kind %q, where one of kind %q is needed", v.Text, k).Hintf("name another profile, or write kind = %q", k)
	default:
		return true
	}
	return false
}
