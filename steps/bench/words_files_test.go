package bench_test

import (
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
)

// files notes what is said of program files that are gone, exchanged, or read before the job was changed.
func (s *said) files(t *testing.T) {
	t.Helper()
	in := setting{tag: "S files"}
	p := shipped(t, "S", nil)
	good, _ := p.Program("top")
	bad := fold.ProgramFile{Name: good.Name, Hash: "00112233445566aa", Data: []byte(strings.ReplaceAll(string(good.Data), "G54", "G55"))}
	now := good
	p.Watch(func(string, fold.ProgramFile) (fold.ProgramFile, bool) { return now, now.Hash != "" })
	until := func(k *bench.Walk, id fold.StepID) {
		if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == id }); err != nil {
			t.Fatal(err)
		}
	}
	decide := func(k *bench.Walk) {
		watch := s.watch(in)
		if _, err := k.Until(func(st *fold.State) bool { watch(st); return st.Cursor.Decide }); err != nil {
			t.Fatal(err)
		}
	}
	k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Effects{}), jobs.Flatten(p.Job))
	until(k, "program")
	now = bad // for another offset; then it is gone
	decide(k)
	old := append([]jobs.Event{}, k.Events...)
	old[0].Cards = map[string]string{"walk": "2"}
	st := fold.Fold(p.WithPrograms(map[string]fold.ProgramFile{"top": bad}), old)
	if ss, ok := st.Step("program"); ok {
		s.step(in, "second-side", ss)
	}
	now = fold.ProgramFile{}
	es, err := k.State().Again()
	if err != nil || k.Add(es...) != nil {
		t.Fatal(err)
	}
	decide(k)
	spoilt := append([]jobs.Event{}, k.Events...)
	for i, e := range spoilt {
		if e.By == fold.BySelf {
			s.reach(e.Value)
			spoilt[i].Value = "luck"
		}
	}
	st = fold.Fold(p, spoilt)
	s.state(in, &st)
	for i, e := range k.Events {
		if e.By == fold.BySelf {
			spoilt[i].Value = strings.Replace(e.Value, "{", `{"more":2,`, 1)
		}
	}
	st = fold.Fold(p, spoilt)
	s.state(in, &st)
	now = good
	until(k, "deck")
	now = bad // exchanged after its check
	decide(k)
	now = good
	if _, err := k.Until(nil); err != nil || !k.State().Released {
		t.Fatalf("held at %v: %s, %v", k.HeldAt, k.Words, err)
	}
	for _, q := range []*fold.Plan{p.WithPrograms(map[string]fold.ProgramFile{"top": bad}), planOf(t, p.Job, "side2", nil)} {
		st = fold.Fold(q, k.Events)
		for _, j := range desk.JudgedFiles(&st) {
			s.reach(j.Says())
		}
		s.reported(&st)
	}
	if err := k.Add(jobs.Event{Plan: "edited", Cards: map[string]string{"machine.travel.z.1": "0.0"}, Changed: []string{"machine.travel.z.1"}}); err != nil {
		t.Fatal(err)
	}
	s.watch(in)(k.State())
}
