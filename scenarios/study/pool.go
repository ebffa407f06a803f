package study

import (
	"context"
	"runtime"
	"sync"
)

// Options say how a study is run. The zero value uses all processors and tells nothing on the way.
type Options struct {
	Workers  int                   // runs at a time; 0: as many as there are processors
	Progress func(done, total int) // called in one goroutine whenever a run is handed over; nil: nobody looks
}

func (o Options) workers() int {
	if o.Workers > 0 {
		return o.Workers
	}
	return runtime.GOMAXPROCS(0)
}

func (o Options) tell(done, total int) {
	if o.Progress != nil {
		o.Progress(done, total)
	}
}

// window is how many runs may be under way or wait for an earlier one, for each worker: enough that a run of ten times the
// usual length holds up nobody.
const window = 16

// inOrder does job for 0, 1, … n−1 on a pool of workers and gives what comes of them to take in that order, in the
// caller's goroutine. The first error ends it, in order too; it is that of job, of take, or ctx's.
func inOrder[T any](ctx context.Context, n, workers int, job func(context.Context, int) (T, error), take func(int, T) error) error {
	type done struct {
		value T
		err   error
	}
	type slot struct {
		i    int
		done chan done
	}
	ctx, stop := context.WithCancel(ctx)
	workers = min(workers, max(n, 1))
	queue, work := make(chan slot, window*workers), make(chan slot)
	var group sync.WaitGroup
	defer group.Wait()
	defer stop()
	group.Go(func() {
		defer close(work)
		defer close(queue)
		for i := range n {
			s := slot{i, make(chan done, 1)}
			select {
			case queue <- s:
			case <-ctx.Done():
				return
			}
			select {
			case work <- s:
			case <-ctx.Done():
				s.done <- done{err: ctx.Err()}
				return
			}
		}
	})
	for range workers {
		group.Go(func() {
			for s := range work {
				value, err := job(ctx, s.i)
				s.done <- done{value, err}
			}
		})
	}
	for s := range queue {
		d := <-s.done
		if d.err != nil {
			return d.err
		}
		if err := take(s.i, d.value); err != nil {
			return err
		}
	}
	return ctx.Err()
}
