// Package profiles carries the built-in profiles in the binary: cutting shops,
// machines (machine-*) and bits (bit-*).
// What a profile holds is described in package profile.
package profiles

import "embed"

// Files are the profiles, one TOML file each, named like the profile.
//
//go:embed *.toml
var Files embed.FS
