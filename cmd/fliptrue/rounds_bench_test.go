package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/bench"
)

// BenchmarkEmptyRounds opens and replays a nearly finished record with 20,000 rounds opened
// one after the other and nothing read in them. Opening has to stay under a second.
func BenchmarkEmptyRounds(b *testing.B) {
	dir := b.TempDir()
	job, record := filepath.Join(dir, "back.job.yaml"), filepath.Join(dir, "back.1.record.yaml")
	e := &env{disk: jobs.OS(), now: time.Now, getenv: func(string) string { return "" }, out: &bytes.Buffer{}, err: &bytes.Buffer{}}
	p, err := e.prepare(practiceOptions{holdDown: "T", out: dir, seed: 1})
	if err != nil {
		b.Fatal(err)
	}
	res, err := bench.Auto(p.plan, bench.Options{Seed: 1, Cards: p.cards()})
	if err != nil {
		b.Fatal(err)
	}
	es := res.Walk.Events[:len(res.Walk.Events)-3]
	for i := range 20_000 {
		es = append(es, jobs.Event{At: es[0].At, Round: fmt.Sprintf("side2/bore/%d", i+2)})
	}
	if err := p.record.Append(es...); err != nil {
		b.Fatal(err)
	}
	p.record.Close()
	b.Run("open", func(b *testing.B) {
		for b.Loop() {
			s, err := begin(e, openOptions{job: job})
			if err != nil {
				b.Fatal(err)
			}
			s.record.Close()
		}
	})
	b.Run("replay", func(b *testing.B) {
		for b.Loop() {
			if _, err := replay(e, replayOptions{job: job, record: record}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
