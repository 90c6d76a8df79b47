package main

import (
	"context"

	"fliptrue/steps/bench"
)

// effectsTable lists what the bench does, with the sizes of the built-in job.
func effectsTable(_ context.Context, o options) (*table, error) {
	t := &table{Title: "what the bench does that the drawing does not say, with the sizes of the built-in job; lengths mm, angles rad, " +
		"temperatures K; --off and --just switch", Head: []string{"effect", "size", "meaning"}}
	p, _, err := o.shopJob(0)
	if err != nil {
		return nil, err
	}
	for _, e := range bench.Usual(p).List() {
		t.row(e.Name, e.Size, e.Meaning)
	}
	t.Cases = len(t.Rows)
	return t, nil
}
