package cli

import (
	"fmt"
	"runtime/debug"

	"strapwork/pkg/lettering"
)

var versionCommand = command{
	name: "version", about: "prints the version",
	flags: []flag{
		jsonFlag("print it as JSON"),
	},
	after: "the letters that parts carry:\n" + lettering.Acknowledgement,
	run:   runVersion,
}

// unversioned is printed for a build that carries no version.
const unversioned = "(devel)"

type versionDocument struct {
	document
	Version string `json:"version"`
	Commit  string `json:"commit,omitempty"`
	Go      string `json:"go,omitempty"`
}

func runVersion(e *env, c command, args []string) int {
	if status, done := e.parse(e.flagSet(c), c, args, 0, 0); done {
		return status
	}
	v := versionDocument{document: done("version", nil), Version: unversioned}
	if info, ok := debug.ReadBuildInfo(); ok {
		v.Go = info.GoVersion
		if info.Main.Version != "" {
			v.Version = info.Main.Version
		}
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" {
				v.Commit = s.Value
			}
		}
	}
	if e.json {
		return e.printJSON(v, statusDone)
	}
	return e.print(fmt.Sprintf("strapwork %s\n", v.Version), statusDone)
}
