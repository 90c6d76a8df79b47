package reuse

import (
	"fmt"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// card is what a released look at a fixture has to write: one more row of its history, the load on its threads, and bosses
// that were given up.
func card(st fold.State, record string, now func() (jobs.Fixture, error)) (w jobs.Writeback, ok bool, err error) {
	p := st.Plan()
	k, ok1 := facts.Kept.By(st.Fact)
	b, ok2 := facts.Back.By(st.Fact)
	if !st.Released || !ok1 || !ok2 {
		return w, false, nil
	}
	f, err := now()
	if err != nil {
		return w, false, err
	}
	done, _ := st.Fact(facts.Kept.ID)
	s := today(p, st.Fact)
	w = jobs.Writeback{Key: fmt.Sprintf("#%d", done.Last), Set: map[string]string{}, Add: map[string]int{},
		Kept: map[string]string{"fixture": fates[int(k.Fate)]}}
	row := func(v, key string) { w.Set[jobs.Path("seen", record, key)] = v }
	row(st.LastAt.UTC().Format(time.RFC3339), "at")
	row(fmt.Sprint(s.Use), "use")
	row(desk.CardLength(s.Bore, f.Unit), "bore")
	row(fmt.Sprintf("%.7f", s.Grown), "grown")
	row(desk.CardLength(s.Floor, f.Unit), "floor")
	row(desk.CardLength(s.Rim, f.Unit), "rim")
	row(desk.CardSlope(float64(s.Line)), "line")
	row(fmt.Sprintf("%.1fC", b.C), "temperature")
	if b.RH > 0 {
		row(fmt.Sprintf("%.0f", b.RH), "humidity")
	}
	if k.Out != 0 {
		row("a mishap or a waiver stands in its record", "left-out")
	}
	if r, ok := facts.Reproved.By(st.Fact); ok && r.N > 0 {
		w.Add["threads.cycles"] = 1
	}
	if l, ok := facts.LookedAt.By(st.Fact); ok && l.Crazed > 0 {
		w.Add["threads.crazed"] = int(l.Crazed)
	}
	return w, true, nil
}
