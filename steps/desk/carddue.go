package desk

import (
	"fmt"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// CardChanges are what the setup has to write to the machine card, in order: a ball
// calibrated, a spindle trammed, squareness measured; and what was lost for all jobs, such
// as a ball whose stylus was changed. A setup that proves machine or ball gives them once
// it is released; what was lost is given at once.
//
// Each Key is "#" and the place in the record that it rests on: the caller puts the
// record's name before it, so that writing it twice does nothing. Nothing is written here.
func CardChanges(st fold.State) []jobs.Writeback {
	if st.Plan() == nil || !st.Begun {
		return nil
	}
	c := cardChanges{st: &st, m: &st.Plan().Job.Machine}
	c.ball()
	c.tram()
	if f, ok := c.proven("squareness"); ok {
		if q, ok := facts.Squared.Read(f); ok {
			c.add(f.Last, map[string]string{"squareness": slope(float64(q.Eps))})
		}
	}
	c.lost()
	return merged(c.out)
}

// cardChanges gathers what is to be written.
type cardChanges struct {
	st  *fold.State
	m   *jobs.Machine
	out []jobs.Writeback
}

func (c *cardChanges) add(at fold.Seq, set map[string]string) {
	c.out = append(c.out, jobs.Writeback{Key: fmt.Sprintf("#%d", at), Set: set})
}

func (c *cardChanges) length(v unit.Length) string {
	return CardLength(float64(v), c.m.Unit)
}

// CardLength is a length as a card of any unit reads it, CardSlope a turn.
func CardLength(mm float64, sys unit.System) string {
	return withUnit(unit.Format(mm, unit.KLength, sys, fine(sys)), unit.KLength, sys)
}

func CardSlope(v float64) string { return slope(v) }

// slope is a plain ratio in any unit.
func slope(v float64) string { return plain(v*300, 7) + "/300" }

// own is a fact that this setup made.
func (c *cardChanges) own(id fold.FactID) (fold.Known, bool) {
	f, ok := c.st.Fact(id)
	return f, ok && f.By != "" && f.First > 0 && made(c.st, f)
}

// proven is one that may be written: what a setup is there to prove only once it is released.
func (c *cardChanges) proven(id fold.FactID) (fold.Known, bool) {
	f, ok := c.own(id)
	p := c.st.Plan()
	return f, ok && (c.st.Released || !p.Hands(p.Setup.Kind, id))
}

// date is the day on which a fact was read.
func (c *cardChanges) date(f fold.Known) string {
	for _, ss := range c.st.Steps {
		for _, r := range ss.Rounds {
			if r.First == f.First && len(r.Taken) > 0 {
				return r.Taken[len(r.Taken)-1].At.Format("2006-01-02")
			}
		}
	}
	return c.st.LastAt.Format("2006-01-02")
}

func (c *cardChanges) ball() {
	f, ok := c.proven("ball")
	b, reads := facts.Ball.Read(f)
	if !ok || !reads || c.m.Probe == nil || len(f.Value) < 6 {
		return
	}
	set := map[string]string{"probe.radius": c.length((b.RX + b.RY) / 2), "probe.radius-x": c.length(b.RX), "probe.radius-y": c.length(b.RY),
		"probe.repeat": c.length(b.S), "probe.dof": plain(b.Freedom, 0),
		"probe.date": c.date(f), "probe.mark": "toward you", "probe.source": "ring gauge", "probe.void": "no", "probe.eccentricity.0": c.length(
			b.EX), "probe.eccentricity.1": c.length(b.EY)}
	if r := typed(c.st, "ball", "ring"); r != "" {
		set["probe.source"] = "ring gauge " + r
	}
	c.add(f.Last, set)
}

func (c *cardChanges) tram() {
	f, ok := c.proven("tram")
	t, reads := facts.Tram.Read(f)
	if !ok || !reads {
		return
	}
	set := map[string]string{"tram.x": slope(float64(t.X)), "tram.y": slope(float64(t.Y)), "tram.date": c.date(f), "tram.void": "no"}
	if k, ok := c.own("tram/column"); ok {
		if z, ok := facts.Column.Read(k); ok {
			set["tram.column-x"], set["tram.column-y"] = slope(float64(z.X)), slope(float64(z.Y))
			f.Last = max(f.Last, k.Last)
		}
	}
	c.add(f.Last, set)
}

// lost marks on the card what a mishap took for all jobs.
func (c *cardChanges) lost() {
	for _, h := range c.st.Mishaps {
		row, ok := c.st.Plan().Mishap(h.ID)
		if !ok || h.By != "" {
			continue
		}
		for _, q := range []struct {
			fact fold.FactID
			key  string
			has  bool
		}{{"ball", "probe.void", c.m.Probe != nil}, {"tram", "tram.void", c.m.Tram != nil}} {
			f, again := c.own(q.fact)
			if q.has && row.Cell(q.fact) == fold.V && !(again && f.First > h.Seq) {
				c.add(h.Seq, map[string]string{q.key: row.Words + ", " + on(h, *c.st)})
			}
		}
	}
}

// on is the day of a mishap.
func on(h fold.Happened, st fold.State) string {
	if h.At.IsZero() {
		return st.LastAt.Format("2006-01-02")
	}
	return h.At.Format("2006-01-02")
}

// merged puts changes of one place together, in the order of places.
func merged(ws []jobs.Writeback) []jobs.Writeback {
	var out []jobs.Writeback
	for _, w := range ws {
		found := false
		for i := range out {
			if out[i].Key == w.Key {
				for k, v := range w.Set {
					out[i].Set[k] = v
				}
				found = true
			}
		}
		if !found {
			out = append(out, w)
		}
	}
	return out
}

// made says that a fact was made by a round of this setup, not handed over by another.
func made(st *fold.State, f fold.Known) bool {
	ss, ok := st.Step(f.By)
	if !ok {
		return false
	}
	for _, r := range ss.Rounds {
		if r.First == f.First {
			return true
		}
	}
	return false
}

// typed is the newest answer at a step's field.
func typed(st *fold.State, step fold.StepID, field string) string {
	if ss, ok := st.Step(step); ok && ss.Round != nil {
		if t, ok := ss.Round.Get(field); ok {
			return strings.TrimSpace(t.Value)
		}
	}
	return ""
}

// fine is the step that card values are written with: a tenth of a micrometre or finer.
func fine(sys unit.System) float64 {
	if sys == unit.Imperial {
		return 1e-6 * float64(unit.Inch)
	}
	return 1e-4
}

// plain writes a number with at most so many decimals, no zeros behind.
func plain(v float64, decimals int) string {
	s := fmt.Sprintf("%.*f", decimals, v)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

// withUnit writes a length so that a card of any unit reads it.
func withUnit(s string, k unit.Kind, sys unit.System) string { return s + unit.UnitName(k, sys) }
