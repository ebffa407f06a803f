package study

import (
	"context"
	"fmt"
)

// Spread is a study of how likely each outcome is when the values that are spread miss.
type Spread struct {
	Base   *Model
	Design *Design
	id     Identity
}

// NewSpread strews so many runs over the spread of the model's scenario.
func NewSpread(m *Model, sampling Sampling, runs int, seed uint64) (*Spread, error) {
	d, err := NewDesign(m, sampling, runs, seed)
	if err != nil {
		return nil, err
	}
	id := Identity{Version: version(), InputDigest: m.Digest(), Sampling: string(sampling), Seed: seed, Of: runs}
	return &Spread{Base: m, Design: d, id: id}, nil
}

// Shard is the part of a study that one of several processes has: of N the I-th, from 1. The zero Shard is all of it.
type Shard struct{ I, N int }

// Has tells whether a run belongs to the shard: every N-th, so that all shards are of like cost.
func (s Shard) Has(run int) bool { return s.N == 0 || run%s.N == s.I-1 }

// Check refuses a shard that is none.
func (s Shard) Check() error {
	if s.N < 1 || s.I < 1 || s.I > s.N || s.N > mostRuns {
		return fmt.Errorf("%d/%d is no shard; I/N with I from 1 to N", s.I, s.N)
	}
	return nil
}

// Todo are the runs of a shard that are not done yet.
func (s *Spread) Todo(shard Shard, done func(run int) bool) (runs []int) {
	for run := range s.Design.Runs {
		if shard.Has(run) && !done(run) {
			runs = append(runs, run)
		}
	}
	return runs
}

// Own is nil of a record of this study, else an error of type *Other.
func (s *Spread) Own(r *Record) error {
	if r.Identity != s.id {
		return &Other{s.id, r.Identity}
	}
	return nil
}

// Run does runs and hands over their records in the order given, in the caller's goroutine. What take returns as an error
// ends it.
func (s *Spread) Run(ctx context.Context, runs []int, o Options, take func(*Record) error) error {
	return inOrder(ctx, len(runs), o.workers(), func(ctx context.Context, i int) (*Record, error) {
		return s.one(ctx, runs[i])
	}, func(i int, r *Record) error {
		if err := take(r); err != nil {
			return err
		}
		o.tell(i+1, len(runs))
		return nil
	})
}

// one does a run.
func (s *Spread) one(ctx context.Context, run int) (*Record, error) {
	m, values, redrawn, err := s.Design.Model(s.Base, run)
	if err != nil {
		return nil, err
	}
	outcome, err := m.Run(ctx)
	if err != nil {
		return nil, err
	}
	return newRecord(s.id, run, redrawn, values, outcome), nil
}
