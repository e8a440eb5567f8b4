package diag

import "strapwork/pkg/unit"

// A Cure is one change that ends a finding by itself: what the hint says in words,
// for a program. A finding with several may be ended by any of them.
type Cure struct {
	// Key is a key of the job file, as in "router.flute" or "motif.circle.2.radius"
	// (lists count from 1); of a finding about a program the letter of a word in its
	// line.
	Key Key `json:"key"`
	// Value is what to write after it, a length in the units of whoever reads the
	// finding and without its unit.
	Value string `json:"value"`

	amount unit.Amount // Value before it is put into units; nil once it was
}

// Propose adds to what ends the finding that value is written for a key, and
// returns f. A length is proposed as the hint has it, rounded to the same side.
func (f *Finding) Propose(key Key, value unit.Amount) *Finding {
	if q, ok := value.(unit.Quantity); ok {
		value = q.Typed()
	}
	f.Cures = append(f.Cures, Cure{Key: key, Value: value.In(unit.MM), amount: value})
	return f
}

// curesIn is cures with their values in the units of s.
func curesIn(cures []Cure, s unit.System) []Cure {
	var out []Cure
	for _, c := range cures {
		if c.amount != nil {
			c.Value, c.amount = c.amount.In(s), nil
		}
		out = append(out, c)
	}
	return out
}
