package bench_test

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/fold"
)

// gather makes steps say what it has to say: to tables, on walks, and of bad records and cards.
func gather(t *testing.T, short bool) *said {
	t.Helper()
	s := newSaid()
	all := settings(t)
	s.tables(t, all, short)
	for _, w := range all {
		if w.much == 0 {
			continue // what is known at the desk is all that is said of it
		}
		k := s.walk(t, w, nil)
		if w.much&wrongly != 0 && (!short || w.much&inSlice != 0) {
			s.wrong(w, k.Events, func(_ fold.StepID, n int) bool { return !short || n < 4 })
		}
		if short {
			continue
		}
		if w.plan.Setup.Kind == "first-side" {
			s.facedTop(t, w)
		}
		if w.much&wrongly != 0 {
			s.awry(w)
			s.otherwise(w)
		}
		if w.plan.Setup.Kind == "inspect" && w.much&wrongly != 0 {
			s.spoiled(t, w)
		}
		if w.tag == "tape" {
			s.begunBefore(w.plan, k.Events)
		}
		if w.tag == "inspect" {
			s.standing(t)
		}
		if w.plan.Job.Machine.Rotation == "G68" {
			s.onward(t, w, k)
		}
		if w.much&mistaken != 0 {
			for _, m := range bench.MistakesIn(w.plan) {
				sizes := []float64{m.Size}
				if w.much&large != 0 {
					sizes = append(sizes, 3*m.Size)
				}
				for _, size := range sizes {
					s.walk(t, w, func(k *bench.Walk) {
						if err := k.World.Make(m.Name, size); err != nil {
							t.Fatal(err)
						}
					})
				}
			}
		}
		if w.much&mishappens != 0 {
			for _, m := range w.plan.Offered() {
				s.mishap(t, w, m, k)
			}
		}
	}
	if !short {
		for _, w := range all {
			if w.much&wrongly != 0 {
				s.torn(t, w, s.walk(t, w, nil).Events)
				break
			}
		}
		s.files(t)
		s.pivot(t)
		s.rescues(t)
		s.seldom(t)
		for _, w := range programmed(t) {
			s.walk(t, w, nil)
		}
	}
	s.records(t, all, short)
	return s
}

// watch notes what each state shows.
func (s *said) watch(in setting) func(*fold.State) bool {
	var last fold.StepID
	return func(st *fold.State) bool {
		s.state(in, st, last)
		last = st.Cursor.Step
		return false
	}
}

// facedTop touches the top once more when side 1 is cut.
func (s *said) facedTop(t *testing.T, w walked) {
	t.Helper()
	k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 7, bench.Usual(w.plan)), nil)
	if ok, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "open" }); err != nil || !ok {
		t.Fatal(ok, err)
	}
	es, err := k.State().Reopen("top")
	if err != nil {
		t.Fatal(err)
	}
	if err := k.Add(es...); err != nil {
		t.Fatal(err)
	}
	if _, err := k.Until(s.watch(w.setting)); err != nil {
		t.Fatal(err)
	}
	old := slices.Clone(k.Events) // the same of an earlier walk, which was not asked
	old[0].Cards = map[string]string{"walk": "2"}
	st := fold.Fold(w.plan, old)
	s.state(w.setting, &st, "")
	s.reach(st.Earlier())
}

// onward is the next part on the same mounting.
func (s *said) onward(t *testing.T, w walked, k *bench.Walk) {
	t.Helper()
	if cards, err := k.State().Taken(); err == nil {
		s.on(t, w.setting, bench.NewWalk(w.plan, k.World, cards))
	}
}

// walk walks a plan to its end, or to where the person gives up.
func (s *said) walk(t *testing.T, w walked, before func(*bench.Walk)) *bench.Walk {
	t.Helper()
	k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 7, bench.Usual(w.plan)), nil)
	if before != nil {
		before(k)
	}
	s.on(t, w.setting, k)
	return k
}

func (s *said) on(t *testing.T, in setting, k *bench.Walk) {
	t.Helper()
	if _, err := k.Until(s.watch(in)); err != nil {
		t.Fatalf("%s: %v", in.tag, err)
	}
	st := k.State()
	s.done(in, st)
}

// mishap declares a mishap in the middle of a walk and after its end, and goes the ways back.
func (s *said) mishap(t *testing.T, w walked, m fold.Mishap, whole *bench.Walk) {
	t.Helper()
	tool := ""
	if m.PerTool && !strings.HasPrefix(string(m.ID), "probe-") {
		tool = "5"
	}
	k := s.walk(t, w, func(k *bench.Walk) {
		for _, at := range []int{len(whole.Events) / 2, len(whole.Events) * 9 / 10} {
			if _, err := k.Until(func(*fold.State) bool { return len(k.Events) >= at }); err != nil {
				t.Fatal(err)
			}
			if err := k.Declare(m.ID, tool); err != nil {
				t.Fatal(err)
			}
		}
		s.on(t, w.setting, k)
		if err := k.Declare(m.ID, tool); err != nil {
			t.Fatal(err)
		}
	})
	off := map[fold.StepID]bool{}
	for _, sp := range w.plan.Off {
		off[sp.ID] = true
	}
	s.wrong(w, k.Events, func(id fold.StepID, _ int) bool { return off[id] })
}

// awry walks where everything is as much as six times off what it usually is.
func (s *said) awry(w walked) {
	for i, by := range []float64{2.5, 6} {
		e := bench.Usual(w.plan)
		v := reflect.ValueOf(&e).Elem()
		for i := range v.NumField() {
			switch v.Type().Field(i).Name {
			case "Readout", "DialAngle", "DialSense", "DialRound":
			default:
				v.Field(i).SetFloat(by * v.Field(i).Float())
			}
		}
		s.asFarAs(w.setting, bench.NewWalk(w.plan, bench.NewWorld(w.plan, uint64(11+i), e), nil))
	}
}

// otherwise walks by the last of the ways that a free choice offers.
func (s *said) otherwise(w walked) {
	k := bench.NewWalk(w.plan, bench.NewWorld(w.plan, 7, bench.Usual(w.plan)), nil)
	see := s.watch(w.setting)
	chosen := map[string]bool{}
	var free fold.Ask
	for range 30 {
		ok, err := k.Until(func(st *fold.State) bool {
			see(st)
			a, asked := st.Ask(st.Cursor.Field)
			free = a
			return asked && a.Kind == fold.Choice && a.Want == "" && len(a.Options) > 1 && !chosen[string(st.Cursor.Step)+a.Field]
		})
		if err != nil || !ok {
			break
		}
		chosen[string(k.State().Cursor.Step)+free.Field] = true
		if es, err := k.State().Take("bench", [2]string{free.Field, free.Options[len(free.Options)-1]}); err != nil || k.Add(es...) != nil {
			break
		}
	}
	s.asFarAs(w.setting, k)
}

// asFarAs is a walk of what the bench need not be able to show to its end.
func (s *said) asFarAs(in setting, k *bench.Walk) {
	if _, err := k.Until(s.watch(in)); err != nil {
		return
	}
	st := k.State()
	s.done(in, st)
}

// wrong gives each value of a walk wrongly, just when its round is done, and notes what its step then says.
// where says of which step with so many values.
func (s *said) wrong(w walked, es []jobs.Event, where func(id fold.StepID, values int) bool) {
	kind := w.plan.Setup.Kind
	l := steps.NewLog()
	var round []int // events of the round in hand
	at := ""        // its address
	done := func() {
		st := l.State(w.plan)
		ss, ok := st.Step(stepOf(at))
		for n, i := range round {
			_, field := parted(es[i].Read + es[i].Answer)
			j := -1
			if ok {
				j = slices.IndexFunc(ss.Asks, func(a fold.Ask) bool { return a.Field == field })
			}
			if j < 0 {
				continue
			}
			bad := es[i]
			values := wrongValues(ss.Asks[j], es[i].Value, w.plan.System())
			if a := ss.Asks[j]; n >= 9 && (a.Kind == fold.Reading || a.Kind == fold.Echo) && len(values) > 1 {
				values = values[n%3 : n%3+1] // one of many alike
			}
			for _, bad.Value = range values {
				l.Apply(bad)
				now := l.State(w.plan)
				if x, ok := now.Step(ss.ID); ok {
					s.step(w.setting, kind, x)
				}
			}
			l.Apply(es[i]) // and rightly again
		}
	}
	for i, e := range es {
		if e.Round != "" || e.Release != "" {
			if len(round) > 0 && where(stepOf(at), len(round)) {
				done()
			}
			round, at = nil, e.Round
		}
		if e.Read != "" || e.Answer != "" {
			round = append(round, i)
		}
		l.Apply(e)
	}
}

func stepOf(round string) fold.StepID {
	a := strings.Split(round, "/")
	if len(a) < 3 {
		return ""
	}
	return fold.StepID(a[1])
}

// parted is an address without its field, and the field.
func parted(address string) (round, field string) {
	a := strings.SplitN(address, "/", 4)
	if len(a) < 4 {
		return address, ""
	}
	return strings.Join(a[:3], "/"), a[3]
}

// wrongValues are what else could be given: the other choices, another count, and for a number one that is
// a little off and one that is far off, either way.
func wrongValues(a fold.Ask, value string, sys unit.System) (out []string) {
	switch a.Kind {
	case fold.Choice:
		for _, o := range a.Options {
			if !strings.EqualFold(o, value) {
				out = append(out, o)
			}
		}
	case fold.Count:
		if n, err := strconv.Atoi(value); err == nil {
			out = append(out, strconv.Itoa(n+1), "0")
		}
	case fold.Text:
		out = append(out, value+"x")
	default:
		n, err := unit.Parse(value, a.Unit, sys)
		if err != nil {
			return nil
		}
		scale := 1.0
		if sys == unit.Imperial && a.Unit == unit.KLength {
			scale = float64(unit.Inch)
		}
		if a.Unit == unit.KTorque && sys == unit.Metric { // strips a small screw's thread, and does not break the screw
			out = append(out, "700mNm")
		}
		if a.Unit == unit.KAngle { // strips a thread
			out = append(out, "190deg")
		}
		for _, d := range []float64{0.03, -0.4, 3} {
			out = append(out, strconv.FormatFloat((n.Value+d)/scale, 'f', 5, 64))
		}
	}
	return out
}

// replaced makes the edits in a text; what is to be replaced has to be there.
func replaced(t testing.TB, text string, pairs []string) string {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			t.Fatalf("no %q", pairs[i])
		}
		text = strings.ReplaceAll(text, pairs[i], pairs[i+1])
	}
	return text
}
