package main

import (
	"context"

	"fliptrue/steps/bench"
)

// effectsTable lists what the bench does, with the sizes of the built-in job, and who answers for it.
func effectsTable(_ context.Context, o options) (*table, error) {
	t := &table{Title: "what the bench does that the drawing does not say, with the sizes of the built-in job and who answers for it",
		Head: []string{"effect", "size", "source of the size", "line of the register's budget, or why none", "meaning of the size"}}
	p, _, err := o.shopJob(0)
	if err != nil {
		return nil, err
	}
	for _, e := range bench.Erring(bench.Wide(p), erring).List() {
		by, err := ownerOf(e.Name)
		if err != nil {
			return nil, err
		}
		t.row(e.Name, e.Size, by.source, by.String(), e.Meaning)
	}
	t.Cases = len(t.Rows)
	t.Notes = append(t.Notes, "lengths mm, angles rad, temperatures K; --off NAME and --just NAME switch, --set NAME=SIZE gives another size",
		"a person who errs is on in the table of persons alone; common practice and what is from memory may be wrong by a factor of 2")
	return t, nil
}
