package reuse

import (
	"fmt"

	"fliptrue/calc/hold"
	calc "fliptrue/calc/reuse"
	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// working is the torque that a screw is worked at, by the job's second side; 0 where it is not known.
func working(p *fold.Plan) unit.Torque {
	if s := kit.Side2(p); s != nil && s.Screws.Thread != "" {
		if h := desk.Hold(p.Otherwise(s), desk.AsFound{}); h.Why == "" {
			return h.Set.Torque
		}
	}
	return unit.Torque(hold.StripShare) * p.Job.Fixture.Threads.StripTorque
}

// threadCount is how many threads are in use.
func threadCount(p *fold.Plan) int {
	if s := kit.Side2(p); s != nil {
		return len(s.Screws.At)
	}
	return 0
}

// life is how often the threads may be loaded, 0 without end.
func life(p *fold.Plan) int {
	th := p.Job.Fixture.Threads
	switch {
	case th.Retire > 0:
		return th.Retire
	case kit.Soft(p, p.Job.Fixture.Material) && th.Kind == "tapped":
		return calc.AcrylicCycles
	}
	return calc.NutBarCycles
}

// proof loads each thread once beyond its work: a thread that gives way does it now.
func proof(p *fold.Plan) *fold.Spec {
	if p.Job.Fixture.Threads.Kind == "none" || threadCount(p) == 0 {
		return nil
	}
	t, err := calc.ToProof(working(p), desk.KeyArm(p))
	return &fold.Spec{
		Title: "proof of threads", Needs: facts.LookedAt.Live(), Makes: []fold.FactID{facts.Reproved.ID},
		Keys: []string{"setups." + p.Setup.Name + ".fixture"},
		Asks: func(fold.View) []fold.Ask {
			n := fmt.Sprint(threadCount(p))
			turned := kit.Counted("turned", "threads turned to the proof torque", "threads", "proved", n,
				"One that was left out is the one that gives way.", "Turn them all, once each.")
			turned.Do = []fold.Act{{Do: "screw", Of: "proof", Words: "Screw and washers on a scrap. " + proofWords(p, t, err) +
				" Once each, slowly, then out again."}}
			return []fold.Ask{turned, kit.Counted("soft", "threads that turned on without getting tighter", "threads", "soft", "0",
				"A soft thread holds nothing.", "Mark it through; take a spare thread, or let in a nut bar.")}
		},
		Judge: func(v fold.View) fold.Outcome { return judgeProof(p, v, t, err) },
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "A thread that would give way under a part gives way now, with nothing to lose.",
				Act: "Turn each thread once to the proof torque.", Read: "Count those that turn on without getting tighter.",
				Caution: "Eyes: a thread lets go. Weight on a string over a pulley, foot aside.", Scene: kit.Scene(p, v, nil)}
			if err == nil {
				pg.Rows = []fold.Row{{Label: "proof torque", Text: desk.Torque(p, float64(t.Torque)), Big: true},
					{Label: "level pull on a key of " + desk.Arm(p), Text: desk.Pull(p, t.Torque), Big: true}}
			}
			return pg
		},
	}
}

func proofWords(p *fold.Plan, t calc.Proof, err error) string {
	if err != nil {
		return ""
	}
	return fmt.Sprintf("Proof torque %s: a level pull of %s on %s.", desk.Torque(p, float64(t.Torque)), desk.Pull(p, t.Torque), desk.Arm(p))
}

func judgeProof(p *fold.Plan, v fold.View, t calc.Proof, err error) fold.Outcome {
	var o fold.Outcome
	if err != nil || !(t.Torque > 0) {
		kit.Refuse(&o, "reuse.torque", "a torque to prove the threads by",
			fmt.Errorf("the second side's hold-down is not known; strip a spare thread, write strip-torque on the card"))
		return o
	}
	soft := max(0, v.Int("soft"))
	o.Facts = []fold.Known{facts.Reproved.Is(facts.ReprovedFact{N: float64(max(0, v.Int("turned"))), Soft: float64(soft)})}
	if soft > 0 {
		o.Named = "thread-soft"
		o.Next = []fold.Act{{Do: "thread", Of: "holes", Words: fmt.Sprintf("Mark %d through; move those screws to spare threads, or let in a "+
			"nut bar.", soft)}, {Do: "again", Of: "soft"}}
	}
	th := p.Job.Fixture.Threads
	left, limited, cerr := calc.Cycles{Parts: th.Cycles, Life: life(p)}.Left(1)
	if cerr == nil && limited {
		c := fold.Check{Limit: fold.Limit{ID: "reuse.cycles", Why: "parts that these threads still bear, this proof counted", Max: 1, Min: true,
			Class: fold.Soft}, Got: float64(left), Count: true, Verdict: fold.Pass}
		if left < 1 {
			c.Verdict, c.Words = fold.Fail, fmt.Sprintf("These threads were loaded %d times of %d: this proof is their last.", th.Cycles, life(p))
			if len(o.Next) == 0 {
				o.Named = "threads-used-up"
				o.Next = []fold.Act{{Do: "thread", Of: "holes", Words: c.Words + " Let in a nut bar from below, set cycles on the card to 0."},
					{Do: "round"}}
			}
		}
		o.Checks = append(o.Checks, c)
		o.Learned = fmt.Sprintf("All threads bear the proof; %d parts may still be screwed down.", left)
	} else {
		o.Learned = "All threads bear the proof."
	}
	o.Lines = []fold.Row{{Label: "proof torque", Text: desk.Torque(p, float64(t.Torque)), Big: true},
		{Label: "level pull on a key of " + desk.Arm(p), Text: desk.Pull(p, t.Torque)}}
	return o
}
