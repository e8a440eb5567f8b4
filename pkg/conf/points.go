package conf

// Point is the coordinates of a key in mm.
func (s Section) Point(name string) (x, y float64) {
	v := s.Get(name)
	if v == nil {
		return Bad, Bad
	}
	s.hinted(s.Hint(name), func() {
		if s.key(name).Is.form == formPlace {
			x, y = s.Place(v, name)
		} else {
			x, y = s.Reader.Point(v, name)
		}
	})
	return x, y
}

// Place is a point in mm: a pair of coordinates, or what PointOf makes one of.
func (r *Reader) Place(v *Value, what string) (x, y float64) {
	if r.PointOf != nil && (v.Kind == KindString || v.Kind == KindTable) {
		return r.PointOf(v, what)
	}
	return r.Point(v, what)
}

// Point is a pair of coordinates in mm.
func (r *Reader) Point(v *Value, what string) (x, y float64) {
	if v.Kind != KindList {
		r.wrongType(v, what, "a point", "write [x, y]")
		return Bad, Bad
	}
	if len(v.Items) != 2 {
		r.Faultf(v, WrongType, "%s must have two coordinates, not %d", what, len(v.Items)).Hintf("write [x, y]; decimals have a point")
		return Bad, Bad
	}
	return r.Length(v.Items[0], what+": x", Range{}, ""), r.Length(v.Items[1], what+": y", Range{}, "")
}

// Points is a value's items if it is a list, as points are; if not that is reported, and so
// is a single pair of coordinates. What is named is a point.
func (r *Reader) Points(v *Value, what string) (items []*Value, ok bool) {
	switch {
	case v.Kind != KindList:
		r.wrongType(v, what, "a list of points", "write "+what+" = [[x, y], [x, y]]")
	case len(v.Items) == 2 && r.coordinate(v.Items[0]) && r.coordinate(v.Items[1]):
		r.Faultf(v, WrongType, "%s must be a list of points, not one point", what).Hintf("write %s = [[x, y]]", what)
	default:
		return v.Items, true
	}
	return nil, false
}

// coordinate reports whether a value is likely meant as one coordinate of a point.
func (r *Reader) coordinate(v *Value) bool {
	return v.Kind != KindList && v.Kind != KindTable && !(r.Named != nil && v.Kind == KindString && r.Named(v.Text))
}
