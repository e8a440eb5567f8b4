package cli

import (
	"fmt"
	"strings"
	"text/tabwriter"

	"strapwork/pkg/profile"
)

var profilesCommand = command{
	name: "profiles", about: "lists the cutting shops that are built in, for cutting.profile",
	text: `flags:
  --json   print them as JSON, layers and all
`,
	run: runProfiles,
}

type profileList struct {
	document
	Profiles []profileEntry `json:"profiles"`
}

type profileEntry struct {
	Name      string       `json:"name"`
	About     string       `json:"about"`
	Cutter    string       `json:"cutter"`
	Units     string       `json:"units"`
	Bed       [2]float64   `json:"bed"`       // mm
	Tolerance float64      `json:"tolerance"` // mm
	Layers    []layerEntry `json:"layers"`
}

type layerEntry struct {
	Role  string `json:"role"`
	Name  string `json:"name"`
	Color int    `json:"color"`
}

func runProfiles(e *env, c command, args []string) int {
	if status, done := e.parse(e.flagSet(c), c, args, 0, 0); done {
		return status
	}
	shops := profile.List()
	if !e.json {
		return e.print(profileTable(shops), statusDone)
	}
	list := profileList{document: done("profiles", nil)}
	for _, s := range shops {
		p := profileEntry{
			Name: s.Name, About: s.About, Cutter: s.Cutter.String(), Units: s.Units.String(),
			Bed: s.Bed, Tolerance: s.Tolerance,
		}
		for _, r := range profile.Roles() {
			p.Layers = append(p.Layers, layerEntry{r, s.Layer(r).Name, s.Layer(r).Color})
		}
		list.Profiles = append(list.Profiles, p)
	}
	return e.printJSON(list, statusDone)
}

func profileTable(shops []profile.Shop) string {
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 3, ' ', 0)
	fmt.Fprintln(w, "name\tbed, mm\tholds, mm\tdrawings\tabout")
	for _, s := range shops {
		fmt.Fprintf(w, "%s\t%g x %g\t%g\t%s\t%s\n", s.Name, s.Bed[0], s.Bed[1], s.Tolerance, s.Units, s.About)
	}
	_ = w.Flush() // to a strings.Builder, which takes everything
	return b.String()
}
