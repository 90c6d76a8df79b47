package side2

import (
	"fmt"
	"math"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Engaged is the thread that a screw of the job's length can use, counted from the bottom of the relief, mm.
func Engaged(p *fold.Plan) float64 {
	s := p.Setup.Screws
	w := 0.0
	if s.Washer > 0 {
		w = s.WasherT
	}
	return s.Length - w - s.Through - p.Job.Fixture.Threads.Relief
}

// inUse is the thread that the screw takes hold in, mm: what it reaches below the relief when it is
// so much longer than the job's, and no more than is there.
func inUse(p *fold.Plan, there, longer float64) float64 {
	le := Engaged(p) + longer
	if there > 0 {
		le = math.Min(le, there)
	}
	return math.Max(le, 0)
}

// engagedCheck holds the thread in use against the least for the fixture's material.
func engagedCheck(p *fold.Plan, t hold.Thread, le float64) fold.Check {
	need := engagement(p, float64(t.D))
	c := fold.Check{Limit: fold.Limit{ID: "threads.engaged", Why: "thread that the screw takes hold in", Max: need, Min: true,
		Class: fold.Hard, Unit: unit.KLength}, Got: le, Verdict: fold.Pass}
	if le < need-1e-9 {
		c.Verdict = fold.Fail
		c.Words = fmt.Sprintf("The screw takes hold in %s of thread; %s wants at least %s.", p.Len(le), p.Job.Fixture.Material, p.Len(need))
	}
	return c
}

// engagement is the least engaged thread, by the fixture's material: else 2 diameters in
// plastics and wood, 1.5 in metal (common practice, from memory).
func engagement(p *fold.Plan, d float64) float64 {
	if m, err := p.Job.Library().Like(p.Job.Fixture.Material); err == nil && m.Engage > 0 {
		return m.Engage * d
	}
	if kit.Soft(p, p.Job.Fixture.Material) {
		return 2 * d
	}
	return 1.5 * d
}

// threadFact judges the threads by the turns that a test screw runs in; it is the fact when they can be used.
func threadFact(p *fold.Plan, v fold.View, o *fold.Outcome) (fold.Known, bool) {
	turns, ok := float64(v.Int("turns")), v.Has("turns")
	if !ok && (!p.Short() || p.Reads(fold.Irreplaceable)) {
		return fold.Known{}, false
	}
	th := p.Job.Fixture.Threads
	cycles := float64(th.Cycles + 1)
	le := 0.0
	if !ok { // as deep as the card has them; soft and loose screws tell one that is not
		o.Notes = append(o.Notes, "No thread is tried at this level: the engagement is that of card and job.")
	} else if t, err := hold.ThreadNamed(p.Setup.Screws.Thread); err == nil {
		le = turns * float64(t.P)
		c := engagedCheck(p, t, inUse(p, le, 0))
		if c.Verdict == fold.Fail {
			if le < Engaged(p) {
				c.Words = fmt.Sprintf("%.0f turns of %s are %s of thread; %s wants at least %s.", turns, t.Name, p.Len(le), p.Job.Fixture.Material,
					p.Len(c.Limit.Max))
			}
			o.Next = append(o.Next, fold.Act{Do: "thread", Of: "holes", Words: c.Words + " Clear or deepen the threads by hand, or take longer " +
				"screws."}, fold.Act{Do: "again", Of: "turns"})
		}
		o.Checks = append(o.Checks, c)
		o.Lines = append(o.Lines, fold.Row{Label: "thread engaged", Value: c.Got, Unit: unit.KLength, Big: true})
	} else {
		o.Notes = append(o.Notes, fmt.Sprintf("Pitch of %q is not known: the engagement is not computed.", p.Setup.Screws.Thread))
	}
	if th.Retire > 0 {
		c := fold.Check{Limit: fold.Limit{ID: "threads.cycles", Why: "uses of these threads, this one counted; retired after",
			Max: float64(th.Retire), Class: fold.Soft}, Got: cycles, Count: true, Verdict: fold.Pass}
		if c.Got > c.Limit.Max {
			c.Verdict = fold.Fail
			c.Words = fmt.Sprintf("These threads are used for the %.0f. time, to be retired after %d.", cycles, th.Retire)
			o.Next = append(o.Next, fold.Act{Do: "thread", Of: "holes", Words: c.Words + " Fit inserts or move the holes, and set the card's " +
				"cycles to 0."}, fold.Act{Do: "round"})
		}
		o.Checks = append(o.Checks, c)
	}
	strip, _ := v.Num("strip", unit.KAngle)
	return facts.Threads.Is(facts.ThreadsFact{N: float64(len(p.Setup.Screws.At)), Cycles: cycles, Engaged: unit.Length(le),
		Strip: unit.Angle(strip)}), true
}

// threads taps by hand (M) or tries the fixture's own threads (T).
func threads(p *fold.Plan) *fold.Spec {
	match := p.Setup.HoldDown == "M"
	s := &fold.Spec{
		Title: "threads", Makes: []fold.FactID{"threads"}, Keys: []string{"setups." + p.Setup.Name + ".screws"}, Needs: fold.AsRead("card"),
		Asks:  func(fold.View) []fold.Ask { return threadAsks(p, match) },
		Judge: func(v fold.View) fold.Outcome { return judgeThreads(p, v) },
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "What holds the part while it is cut are these threads, and nothing else.",
				Act:     "Try a screw by fingers in every thread; count the turns.",
				Read:    "The least number of turns until it stops.",
				Caution: "No alcohol, solvent oil or thread-locker near acrylic: it cracks hours later.", Scene: kit.Scene(p, v, nil)}
			if match {
				pg.Act = "Tap by hand, then try a screw in every thread; count the turns."
			}
			return pg
		},
	}
	if match {
		s.Needs, s.Raises = fold.AsRead("holes"), []fold.MishapID{"probe-refitted"}
	}
	return s
}

func threadAsks(p *fold.Plan, match bool) []fold.Ask {
	n := fmt.Sprint(len(p.Setup.Screws.At))
	first := kit.Counted("good", "threads that take a screw by fingers", "threads", "good", n, "A thread that binds strips.",
		"Chase it by hand, clear the chips, try again.")
	first.Do = []fold.Act{{Do: "thread", Of: "holes", Words: "Try a screw by fingers in every thread; blow nothing, vacuum."}}
	if match {
		first.Do[0].Words = "Tap by hand, guided by a centre held in the spindle. One turn forward, half back, wax or soapy water. Then try a " +
			"screw by fingers."
	}
	turns := fold.Ask{Field: "turns", Form: "turns", Label: "turns a screw runs in, the least of all", Kind: fold.Count,
		What: fold.What{By: "tap", Of: "threads", Dir: "turns"}}
	strip := fold.Ask{Field: "strip", Form: "turns", Label: "from snug to strip, if you stripped one", Kind: fold.Reading, Unit: unit.KAngle,
		Optional: true,
		What:     fold.What{By: "eye", Of: "test-thread", Dir: "strip"}}
	shards := kit.Counted("shards", "broken bits seen in the threads with a magnifier", "threads", "shards", "0",
		"A shard strips the thread and tilts the part.", "Pick it out with tweezers.")
	first = kit.Mend(first, "", fold.Act{Do: "thread", Of: "holes", Words: "Chase the threads that bind, by hand, or retire them."})
	shards = kit.Mend(shards, "", fold.Act{Do: "thread", Of: "holes", Words: "Tweezers, not fingers: a shard cuts. Look again with the " +
		"magnifier."})
	return kit.OneForm("turns", first, turns, strip, shards)
}

func judgeThreads(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	k, ok := threadFact(p, v, &o)
	if ok {
		o.Facts = []fold.Known{k}
	}
	n := len(p.Setup.Screws.At)
	if v.Has("good") && v.Int("good") != n && len(o.Next) == 0 {
		o.Next = append(o.Next, fold.Act{Do: "thread", Of: "holes", Words: "Chase the threads that bind, by hand, or retire them."},
			fold.Act{Do: "again", Of: "good"})
	}
	if v.Int("shards") > 0 && len(o.Next) == 0 {
		o.Next = append(o.Next, fold.Act{Do: "thread", Of: "holes", Words: "Tweezers, not fingers: a shard cuts. Look again with the magnifier."},
			fold.Act{Do: "again", Of: "shards"})
	}
	f, _ := facts.Threads.Read(k)
	threadStrength(p, desk.AsFound{Engaged: f.Engaged, Strip: f.Strip, Earlier: !v.Walks(3)}, &o)
	if v.Has("good") {
		n = v.Int("good")
	}
	o.Learned = fmt.Sprintf("All %d threads take a screw by fingers", n)
	if f.Engaged > 0 {
		o.Learned += ", " + p.Len(float64(f.Engaged)) + " deep at least"
	}
	o.Learned += "."
	return o
}

// threadStrength says what a screw in these threads is set to, and whether they then hold the part under the cut.
func threadStrength(p *fold.Plan, w desk.AsFound, o *fold.Outcome) {
	h := desk.Hold(p, w)
	if h.Why != "" {
		desk.HoldDown(p, w, o)
		return
	}
	if w.Earlier {
		l := fold.Limit{ID: "threads.strip", Why: "load of a screw at its highest against a third of what strips the thread",
			Max: float64(h.Ends.Low.Preload.Strip) / hold.Usual.Strip, Class: fold.Never, Unit: unit.KForce}
		c := judge.Most(l, float64(h.Ends.Low.Preload.High), 0)
		c.Words = fmt.Sprintf("The thread is held %.2f times against strip.", h.Ends.Low.Preload.SFStrip)
		o.Checks = append(o.Checks, c)
	} else {
		desk.HoldDown(p, w, o, "hold.retention", "hold.register")
	}
	o.Lines = append(o.Lines, h.PreloadRows(p)...)
	if note := h.AngleNote(); note != "" {
		o.Notes = append(o.Notes, note)
	}
	if w.Earlier {
		o.Notes = append(o.Notes, desk.Estimate)
	}
}

// stages are the shares of the working torque in rounds (common practice, from memory).
var stages = [3]float64{0.40, 0.70, 1}

// tightening is the order of tightening, from 1: from the middle outward, each followed by
// the one opposite it.
func tightening(p *fold.Plan) []int {
	var at [][2]float64
	for _, q := range p.Setup.Screws.At {
		at = append(at, [2]float64{q.X, q.Y})
	}
	out := hold.TightenOrder(at)
	for i := range out {
		out[i]++
	}
	return out
}
