// Package profiles carries the built-in profiles in the binary: cutting shops,
// machines (machine-*), bits (bit-*) and what strips are made of (materials/*).
// What a profile holds is described in package profile.
package profiles

import "embed"

// Files are the profiles, one TOML file each, named like the profile.
//
//go:embed *.toml materials/*.toml
var Files embed.FS
