package sat

// The order of decisions: variables in a heap, the most active on top, where a
// variable is the more active the more conflicts of late it took part in. Equals
// come by number, so that the order is the same each time.

type order struct {
	activity []float64
	heap     []int
	at       []int // by variable: its place in the heap; -1 if it isn't there
	gain     float64
}

const (
	decayed  = 0.95  // what is left of activities after each conflict
	mostGain = 1e100 // beyond it all are made small again
)

func (o *order) add(v int) {
	if o.gain == 0 {
		o.gain = 1
	}
	o.activity = append(o.activity, 0)
	o.at = append(o.at, -1)
	o.put(v)
}

func (o *order) before(v, w int) bool {
	if o.activity[v] != o.activity[w] {
		return o.activity[v] > o.activity[w]
	}
	return v < w
}

// put puts a variable into the heap if it isn't there.
func (o *order) put(v int) {
	if o.at[v] >= 0 {
		return
	}
	o.heap = append(o.heap, v)
	o.at[v] = len(o.heap) - 1
	o.up(o.at[v])
}

// take takes the most active variable out.
func (o *order) take() (v int, ok bool) {
	if len(o.heap) == 0 {
		return 0, false
	}
	v = o.heap[0]
	o.at[v] = -1
	last := o.heap[len(o.heap)-1]
	o.heap = o.heap[:len(o.heap)-1]
	if last != v {
		o.heap[0], o.at[last] = last, 0
		o.down(0)
	}
	return v, true
}

// raise makes a variable more active.
func (o *order) raise(v int) {
	o.activity[v] += o.gain
	if o.activity[v] > mostGain {
		for w := range o.activity {
			o.activity[w] /= mostGain
		}
		o.gain /= mostGain
	}
	if o.at[v] >= 0 {
		o.up(o.at[v])
	}
}

// decay makes all less active: what comes later counts more.
func (o *order) decay() { o.gain /= decayed }

func (o *order) up(i int) {
	v := o.heap[i]
	for i > 0 {
		p := (i - 1) / 2
		if !o.before(v, o.heap[p]) {
			break
		}
		o.heap[i] = o.heap[p]
		o.at[o.heap[i]] = i
		i = p
	}
	o.heap[i] = v
	o.at[v] = i
}

func (o *order) down(i int) {
	v := o.heap[i]
	for {
		c := 2*i + 1
		if c >= len(o.heap) {
			break
		}
		if c+1 < len(o.heap) && o.before(o.heap[c+1], o.heap[c]) {
			c++
		}
		if !o.before(o.heap[c], v) {
			break
		}
		o.heap[i] = o.heap[c]
		o.at[o.heap[i]] = i
		i = c
	}
	o.heap[i] = v
	o.at[v] = i
}
