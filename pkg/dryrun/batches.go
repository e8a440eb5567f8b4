package dryrun

import (
	"io"

	"strapwork/pkg/ngc"
)

const (
	// batch is how many moves go from the reader to the judge at a time: enough
	// that handing over costs nothing.
	batch = 512

	// batches is how many may lie between them.
	batches = 8
)

// inBatches reads a program on one processor while visit works on another.
func inBatches(r io.Reader, d ngc.Dialect, visit func(*ngc.Move)) error {
	full := make(chan []ngc.Move, batches)
	free := make(chan []ngc.Move, batches+2)
	for range batches + 2 {
		free <- make([]ngc.Move, 0, batch)
	}
	var err error
	var broken any // what the reader panicked with
	go func() {
		defer close(full)
		defer func() { broken = recover() }()
		list := <-free
		err = d.Read(r, func(m ngc.Move) error {
			list = append(list, m)
			if len(list) == batch {
				full <- list
				list = (<-free)[:0]
			}
			return nil
		})
		full <- list
	}()
	for list := range full {
		for i := range list {
			visit(&list[i])
		}
		free <- list
	}
	if broken != nil {
		panic(broken) // where it can be caught
	}
	return err
}
