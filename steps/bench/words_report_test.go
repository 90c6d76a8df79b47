package bench_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/checks"
	"fliptrue/steps/fold"
	"fliptrue/steps/report"

	"golang.org/x/net/html"
)

// reported puts in the sheets, their lines as they are before they are broken.
func (s *said) reported(st *fold.State) { s.sheet(nil, st) }

// sheet is one with its drawings, where there is a log.
func (s *said) sheet(log *fold.Log, st *fold.State) {
	r := report.Of(log, st, report.About{Part: 1, Record: "a.record.yaml", Version: "1"})
	s.reach(strings.Join(strings.Fields(r.Text()), " "))
	s.strings(r)
	tag, ok := report.MakeTag(st.Plan(), &st.Plan().Job.Fixture, 0)
	if ok {
		s.reach(tag.Text())
	}
	var b bytes.Buffer
	if err := r.HTML(&b, &tag); err != nil {
		panic(err)
	}
	s.reach(b.String()[:len(report.SheetStart)])
	for z := html.NewTokenizer(&b); z.Next() != html.ErrorToken; {
		t := z.Token()
		s.reach(strings.Join(strings.Fields(t.Data), " "))
		for _, a := range t.Attr {
			s.reach(a.Val)
		}
	}
}

// strings puts in all texts of what is printed as JSON.
func (s *said) strings(v any) {
	data, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	var at any
	if err := json.Unmarshal(data, &at); err != nil {
		panic(err)
	}
	var walk func(any)
	walk = func(at any) {
		switch x := at.(type) {
		case string:
			s.reach(x)
		case []any:
			for _, y := range x {
				walk(y)
			}
		case map[string]any:
			for _, y := range x {
				walk(y)
			}
		}
	}
	walk(at)
}

// sheets puts in what a sheet says of a machine not measured, of plan S, of what fell since and of programs changed since.
func (s *said) sheets(t *testing.T) {
	t.Helper()
	var v fold.Verdict
	s.reach(json.Unmarshal([]byte(`"good"`), &v).Error())
	released := func(p *fold.Plan, cards map[string]string) []jobs.Event {
		r, err := bench.Auto(p, bench.Options{Seed: 7, Cards: cards})
		if err != nil {
			t.Fatal(err)
		}
		return r.Walk.Events
	}
	sheet := func(p *fold.Plan, es []jobs.Event) {
		l := steps.NewLog()
		for _, e := range es {
			l.Apply(e)
		}
		st := l.State(p)
		s.sheet(l, &st)
	}
	for _, p := range []*fold.Plan{
		lidWith(t, func(j *jobs.Job, _ *jobs.Setup) { j.Machine.Tram, j.Machine.SquareMeasured = nil, false }),
		sideOne(t, nil),
	} {
		sheet(p, released(p, nil))
	}
	j, err := builtin.Job("S")
	if err != nil {
		t.Fatal(err)
	}
	p := planOf(t, j, "side2", nil)
	sheet(p, released(p, nil))
	texts, err := builtin.Texts("S")
	if err != nil {
		t.Fatal(err)
	}
	file := func(hash string) map[string]fold.ProgramFile {
		return map[string]fold.ProgramFile{"top": {Name: "top.nc", Hash: hash, Data: []byte(texts["top.nc"])}}
	}
	read := planOf(t, j, "side2", file("0123"))
	es := released(read, checks.ProgramCards(read))
	sheet(planOf(t, j, "side2", file("4567")), es)
	sheet(p, es)
	noted := []jobs.Event{fold.Begin("side2", nil, "")}
	for range 20 {
		noted = append(noted, jobs.Event{Note: "seen"})
	}
	sheet(p, noted)
	for i := range 12 { // a fixture that wears, and one use that stands out
		v := map[string]string{"bore": fmt.Sprintf("%.4fmm", 8+0.0008*float64(i)), "mismatch": fmt.Sprintf("%.4fmm", 0.002+0.004*float64(i)), "skew": "0.01/300", "released": fmt.Sprintf("2026-03-%02d", i+1)}
		if i == 6 {
			v["tilt"], v["mismatch"] = "0.03mm", "0.3mm"
		}
		j.Fixture.History = append(j.Fixture.History, jobs.Change{Key: fmt.Sprintf("lid.%d", i), Values: v})
	}
	j.Machine.Probe.Date = "2026-03-01"
	st := fold.Fold(p, noted)
	o := report.NewOverview("shop")
	o.Add(j, []report.PartLine{report.PartOf(&st, "lid.13.record.yaml", 13)}, nil, time.Date(2026, 4, 1, 0, 0, 0, 0, time.UTC))
	o.Done()
	s.strings(o)
	s.reach(o.Text())
}
