package report

import (
	"strapwork/pkg/inlay"
	"strapwork/pkg/work"
)

// care writes the cautions. They come first, are the usual ones, and give way
// to those who know the machine and the place.
func (b *bench) care() {
	b.heading("Take care")
	if b.alone() {
		b.careAtMachine()
		return
	}
	b.para("The router's manual, the rules of the place where you work and people who are trained on the machine come before this sheet. If you are new to it, have someone show you.")
	b.item("Routers throw parts and grab sleeves: wear eye and ear protection, no loose sleeves, gloves or jewellery, and tie back long hair.")
	b.item("Pull the plug before you change or measure the bit. Clamp the work and the template; nothing loose may lie in a track.")
	b.item("Both hands stay on the router until the bit has stopped. If anything shifts or sounds wrong, switch off, wait, and look.")
	b.item("Dust of %s harms lungs: use suction and a mask for fine dust, and don't sweep it up dry.", b.dusts())
	b.item("A laser or a CNC machine is for someone trained on it, and a laser is never left alone while it burns.")
	b.item("Laser-cut MDF gives off formaldehyde: leave new parts to air, and work where there is fresh air. PVC must never be laser cut.")
	b.careOfStrips()
	b.gap()
}

// careAtMachine is care where a machine does the grooving.
func (b *bench) careAtMachine() {
	b.para("The manuals of machine and cutter, the rules of the place where you work and people who are trained on the machine come before this sheet. If you are new to it, have someone show you.")
	b.item("Machines throw parts and grab sleeves: wear eye and ear protection, no loose sleeves, gloves or jewellery, and tie back long hair. Keep your hands away until the bit stands still.")
	b.item("Know where the emergency stop is before you start, and stay at the machine while it runs. If anything shifts or sounds wrong, stop it, wait, and look.")
	b.item("Change and measure the bit with the spindle locked off. Clamp the work so that nothing can shift.")
	b.item("Dust of %s harms lungs: use suction and a mask for fine dust, and don't sweep it up dry.", b.dusts())
	b.careOfStrips()
	b.gap()
}

// careOfStrips is about glueing and levelling.
func (b *bench) careOfStrips() {
	b.item("Glue: keep to its maker's directions, for skin, eyes and fresh air as well as for setting.")
	if b.metal() {
		b.item("Metal strips get hot when they are sanded, and their cut edges are sharp.")
	}
}

// dusts names what the job makes dust of; templates are of MDF.
func (b *bench) dusts() string {
	switch {
	case b.metal() && b.alone():
		return "wood and metal"
	case b.alone():
		return "wood"
	case b.metal():
		return "wood, MDF and metal"
	}
	return "wood and MDF"
}

// metal reports whether any strip is known to be of metal.
func (b *bench) metal() bool { return inlay.HasMetal(b.j.Inlay.Strips) }

// guideWords say what rides the template, and in what.
func (b *bench) guideWords() string {
	switch b.j.Router.Guide {
	case work.GuideBase:
		return "the rim of the router's round base"
	case work.GuideBushing:
		return "a collar (guide bushing) round the bit"
	case work.GuideBearing:
		return "a ball bearing on the bit"
	case work.GuidePivot:
		return "a bar on a pin"
	case work.GuideNone:
	}
	return "unknown"
}

// rider names what rides the template in a few words.
func (b *bench) rider() string {
	switch b.j.Router.Guide {
	case work.GuideBase:
		return "base"
	case work.GuideBushing:
		return "collar"
	case work.GuideBearing:
		return "bearing"
	case work.GuidePivot:
		return "bar"
	case work.GuideNone:
	}
	return "rider"
}
