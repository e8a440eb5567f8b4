// Strapwork compiles a motif of lines and arcs into the outlines of router
// templates.
package main

import (
	"os"

	"strapwork/pkg/cli"
)

func main() { os.Exit(cli.Run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
