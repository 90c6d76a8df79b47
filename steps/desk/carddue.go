package desk

import (
	"fmt"
	"strings"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
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
	m := &st.Plan().Job.Machine
	sys := m.Unit
	length := func(v float64) string {
		return withUnit(unit.Format(v, unit.KLength, sys, fine(sys)), unit.KLength, sys)
	}
	// A slope is a plain ratio in any unit.
	slope := func(v float64) string { return plain(v*300, 7) + "/300" }
	date := func(f fold.Known) string {
		for _, ss := range st.Steps {
			for _, r := range ss.Rounds {
				if r.First == f.First && len(r.Taken) > 0 {
					return r.Taken[len(r.Taken)-1].At.Format("2006-01-02")
				}
			}
		}
		return st.LastAt.Format("2006-01-02")
	}
	var out []jobs.Writeback
	add := func(at fold.Seq, set map[string]string) {
		out = append(out, jobs.Writeback{Key: fmt.Sprintf("#%d", at), Set: set})
	}
	own := func(id fold.FactID) (fold.Known, bool) {
		f, ok := st.Fact(id)
		return f, ok && f.By != "" && f.First > 0 && made(&st, f)
	}
	proven := st.Released || st.Plan().Setup.Kind == kit.FirstSide || st.Plan().Setup.Kind == kit.SecondSide
	if f, ok := own("ball"); ok && proven && m.Probe != nil && len(f.Value) >= 6 {
		set := map[string]string{"probe.radius": length((f.Value[0] + f.Value[1]) / 2), "probe.radius-x": length(f.Value[0]), "probe.radius-y": length(f.Value[1]),
			"probe.repeat": length(f.Value[4]), "probe.dof": plain(f.Value[5], 0), "probe.date": date(f), "probe.mark": "toward you", "probe.source": "ring gauge", "probe.void": "no"}
		if r := typed(&st, "ball", "ring"); r != "" {
			set["probe.source"] = "ring gauge " + r
		}
		set["probe.eccentricity.0"], set["probe.eccentricity.1"] = length(f.Value[2]), length(f.Value[3])
		add(f.Last, set)
	}
	if f, ok := own("tram"); ok && proven {
		set := map[string]string{"tram.x": slope(f.Value[0]), "tram.y": slope(f.Value[1]), "tram.date": date(f), "tram.void": "no"}
		if c, ok := own("tram/column"); ok {
			set["tram.column-x"], set["tram.column-y"] = slope(c.Value[0]), slope(c.Value[1])
			f.Last = max(f.Last, c.Last)
		}
		add(f.Last, set)
	}
	if f, ok := own("squareness"); ok && proven {
		add(f.Last, map[string]string{"squareness": slope(f.Value[0])})
	}
	for _, h := range st.Mishaps {
		row, ok := st.Plan().Mishap(h.ID)
		if !ok || h.By != "" {
			continue
		}
		for _, c := range []struct {
			fact fold.FactID
			key  string
			has  bool
		}{{"ball", "probe.void", m.Probe != nil}, {"tram", "tram.void", m.Tram != nil}} {
			f, again := own(c.fact)
			if c.has && row.Cell(c.fact) == fold.V && !(again && f.First > h.Seq) {
				add(h.Seq, map[string]string{c.key: row.Words + ", " + on(h, st)})
			}
		}
	}
	return merged(out)
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
