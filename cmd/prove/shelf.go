package main

import (
	"slices"
	"sync"

	"fliptrue/steps/fold"
)

// A plan keeps what it worked out, its programs followed above all, and nothing of a walk: the next walk of
// the same plan has it for nothing. Plans stand on a shelf until another walk wants them.
type shelf struct {
	mu    sync.Mutex
	plans []kept // the one put back last stands last
}

type kept struct {
	key  string
	plan *fold.Plan
}

// maxKept bounds what stands there: a plan with what it worked out is a megabyte or two.
const maxKept = 64

var plans shelf

// lend takes a plan off the shelf, or has it made; back puts it there. While it is lent nobody else has it.
func lend(key string, make func() (*fold.Plan, error)) (p *fold.Plan, back func(), err error) {
	if p = plans.take(key); p == nil {
		if p, err = make(); err != nil {
			return nil, nil, err
		}
	}
	return p, func() { plans.put(kept{key, p}) }, nil
}

func (s *shelf) take(key string) *fold.Plan {
	s.mu.Lock()
	defer s.mu.Unlock()
	for i, k := range slices.Backward(s.plans) {
		if k.key == key {
			s.plans = slices.Delete(s.plans, i, i+1)
			return k.plan
		}
	}
	return nil
}

func (s *shelf) put(k kept) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.plans) >= maxKept {
		s.plans = slices.Delete(s.plans, 0, 1)
	}
	s.plans = append(s.plans, k)
}
