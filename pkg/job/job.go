// Package job reads a job file and checks it: every length in millimetres,
// every angle in radians, every mistake found in one go and reported at its line.
package job

import (
	"strapwork/pkg/conf"
	"strapwork/pkg/diag"
	"strapwork/pkg/unit"
	"strapwork/pkg/work"
)

// A Job is a job file as read: lengths in mm, angles in radians, defaults
// filled in. It is not changed after Read.
type Job struct {
	File     string // as given to Read
	Title    string
	Units    unit.System // what a bare number means in the file
	Motif    work.Drawing
	Weave    work.Weaving
	Inlay    work.Inlay
	Router   work.Router
	Template work.Template
	Wood     work.Wood
	Seasons  *work.Seasons  // nil when the file says nothing of moisture
	Board    *work.Board    // nil when the file says nothing of the board
	Table    *work.Table    // nil when the work is no table that comes apart; Board is then the work at its first station
	Cutting  *Cutting       // nil when the file says nothing of the shop
	Paper    *Paper         // nil when the file says nothing of paper
	Program  *Program       // nil when the file says nothing of a program
	Stock    work.Stock     // what the strips are cut from
	Clamping *work.Clamping // nil when the file says nothing of clamps
	Drawings []Source       // the drawings that its motif is traced from
	Notes    diag.Findings  // what was assumed, and what has no effect

	source *conf.File
}

// Pos is where a key's value stands in the file, such as "inlay.depth" or
// "weave.flip.1" (lists count from 1). A key that the file lacks gives its
// table's place, and failing that line 1.
func (j *Job) Pos(key diag.Key) diag.Position { return j.source.Pos(key) }

// Excerpt is a line of the file, counted from 1; empty beyond its end.
func (j *Job) Excerpt(line int) string { return j.source.Excerpt(line) }

// Cutting is the shop that cuts the templates.
type Cutting struct {
	Profile   string  // name or path; may be empty
	Kerf      float64 // full width of the cut: of a laser's burnt line, of the slot that a router's cutter makes
	KerfGiven bool
	KerfBy    work.KerfBy
}
