package jaws

import (
	"fmt"
	"math"

	"fliptrue/calc/growth"
	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// jawsOn bolts the jaws on and clamps them on a spacer as they will clamp the part: they tilt and rise under load, so they
// are cut loaded.
func jawsOn(p *fold.Plan) *fold.Spec {
	axis, _ := across(p)
	return &fold.Spec{
		Title: "jaws on, loaded", Needs: fold.Needs(fold.AsRead("card"), fold.IfBegun("tram")), Makes: []fold.FactID{"identity"},
		Keys: []string{"setups." + p.Setup.Name + ".fixture", "setups." + p.Setup.Name + ".jaws"},
		Asks: func(v fold.View) []fold.Ask {
			id := fold.Named(fold.Ask{Field: "id", Label: "number engraved on the jaws", Kind: fold.Text, What: fold.What{By: "eye", Of: "fixture",
				Dir: "id"}, Want: p.Job.Fixture.ID,
				WantWhy: "The card belongs to other jaws.", Hint: "Fetch the right jaws, or load their card."})
			id.Do = []fold.Act{{Do: "mount", Of: "fixture", Words: "Stone seats and jaws, wipe, bolt the jaws on. Fixed jaw " + side(p) + "."}}
			s := fold.Ask{Field: "spacer", Label: "width of the spacer between them", Kind: fold.Reading, Unit: unit.KLength,
				What:   fold.What{By: "calliper", Of: "spacer", Dir: "width"},
				Window: kit.Around(p.Job.Part.Size[axis], 2, "the part's width")}
			s.Do = []fold.Act{{Do: "grip", Of: "spacer", Words: "Spacer low in the jaws, held by its end. Close to the mark that the part will " +
				"have. Handle off the vise."}}
			mark := fold.Ask{Field: "mark", Label: "the handle stands at its mark", Kind: fold.Choice, Options: []string{yes, no},
				What: fold.What{By: "eye", Of: "jaws", Dir: "mark"}, Want: yes,
				WantWhy: "Cut at another force the nest opens or tilts under the part's.", Hint: "Close it to the mark."}
			return []fold.Ask{id, s, mark}
		},
		Judge: func(v fold.View) fold.Outcome {
			c := judge.Off(p.Limit("jaws.spacer"), v.Len("spacer"), p.Job.Part.Size[axis], 0)
			o := fold.Outcome{Learned: "The jaws are loaded as they will be: now their nest is cut."}
			if c.Verdict != fold.Pass {
				c.Words = fmt.Sprintf("The spacer is %s wide, the part %s: loaded there the jaws tilt otherwise.", p.Len(v.Len("spacer")),
					p.Len(p.Job.Part.Size[axis]))
				o.Next = append(o.Next, fold.Act{Do: "grip", Of: "spacer", Words: c.Words + " Take another spacer."}, fold.Act{Do: "round"})
			}
			if fold.SameAnswer(v.Text("mark"), no) {
				o.Next = append(o.Next, fold.Act{Do: "grip", Of: "spacer", Words: "Close it to the mark."}, fold.Act{Do: "again", Of: "mark"})
			}
			o.Checks = append(o.Checks, c)
			o.Facts = []fold.Known{facts.Identity.Is(facts.IdentityFact{T: 20, Near: 1})} // the nest is cut here and now
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Jaws tilt and rise under load. Cut loaded, the nest is true when it holds the part.",
				Act:     "Bolt the jaws on and clamp them on a spacer.",
				Read:    "The spacer by calliper; the handle's mark.",
				Caution: "SPINDLE STOPPED. Fingers: hold the spacer by its end. Handle off before any cut.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

// nest has it cut where the jaws stay.
func nest(p *fold.Plan) *fold.Spec {
	st := p.Job.Fixture.AsMade.Stops
	return &fold.Spec{
		Title: "nest", Needs: fold.Live("identity"), Makes: []fold.FactID{facts.Nest.ID, "skew"},
		Asks: func(v fold.View) []fold.Ask {
			d := fold.Ask{Field: "depth", Label: "depth of the nest", Kind: fold.Reading, Unit: unit.KLength,
				What: fold.What{By: "calliper", Of: "nest", Dir: "depth"}, Window: kit.Around(p.Setup.Jaws.Grip, 1, "the job's grip")}
			d.Do = []fold.Act{{Do: "cut", Of: "nest", Words: "Door shut. Cut the nest: floor, walls, an undercut in each corner, a groove for " +
				"chips. Last pass thin, then once more over nothing."}}
			w := fold.Ask{Field: "wide", Label: "width of the nest across the jaws", Kind: fold.Reading, Unit: unit.KLength,
				What: fold.What{By: "gauge", Of: "nest", Dir: "wide"}, Window: kit.Around(p.Job.Part.Size[axisOf(p)], 0.5, "the part's width")}
			under := fold.Ask{Field: "under", Label: "corners undercut, groove open, no burr", Kind: fold.Choice, Options: []string{yes, no},
				What: fold.What{By: "eye", Of: "nest", Dir: "under"}, Want: yes,
				WantWhy: "A part rides on a corner or a chip.", Hint: "Undercut the corners, open the groove, stone the burr off."}
			return []fold.Ask{d, w, under}
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			c := judge.Least(p.Limit("jaws.step"), v.Len("depth"), 0)
			if c.Verdict != fold.Pass {
				c.Words = fmt.Sprintf("A step of %s grips too little: a long part pries itself out.", p.Len(v.Len("depth")))
				o.Next = append(o.Next, fold.Act{Do: "cut", Of: "nest", Words: c.Words + " Cut it deeper."}, fold.Act{Do: "round"})
			}
			if fold.SameAnswer(v.Text("under"), no) && len(o.Next) == 0 {
				o.Named = "nest-corners"
				o.Next = append(o.Next, fold.Act{Do: "cut", Of: "nest", Words: "Undercut the corners, open the groove, stone the burr off."},
					fold.Act{Do: "again", Of: "under"})
			}
			o.Checks = append(o.Checks, c)
			u := p.Job.Machine.Straightness / math.Sqrt(3) / math.Max(st.At[1]-st.At[0], 1)
			o.Facts = []fold.Known{facts.Nest.Is(facts.NestFact{Wide: unit.Length(v.Len("wide")), Depth: unit.Length(v.Len("depth"))}),
				facts.Skew.Is(facts.SkewFact{Cov: fold.NewCov("theta", [][]float64{{u*u + 1e-10}})})}
			o.Lines = []fold.Row{{Label: "depth", Value: v.Len("depth"), Unit: unit.KLength, Big: true},
				{Label: "width", Value: v.Len("wide"), Unit: unit.KLength}}
			o.Learned = "The nest lies as the machine travels, for this mounting only. Bolted on again it is cut again."
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "Cut where it stays the nest needs no indicating.",
				Act:     "Cut the nest, let the spindle stop, wipe it, measure it.",
				Read:    "Gauge blocks or an inside micrometer across; depth by calliper.",
				Caution: "Door shut, eye protection. Lowest cut above the spacer. SPINDLE STOPPED before you measure.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

func axisOf(p *fold.Plan) int { a, _ := across(p); return a }

// grip measures the part where it will be gripped, before it goes in.
func grip(p *fold.Plan) *fold.Spec {
	axis, name := across(p)
	return &fold.Spec{
		Title: "part at its grip", Needs: fold.Needs(fold.Live(facts.Nest.ID), fold.Whether("seat")), Makes: []fold.FactID{facts.Grip.ID},
		Keys: []string{"setups." + p.Setup.Name + ".jaws"},
		Asks: func(v fold.View) []fold.Ask {
			read := func(field, label, dir string, want, half float64) fold.Ask {
				return fold.Ask{Field: field, Label: label, Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "micrometer", Of: "part",
					Dir: dir}, Window: kit.Around(want, half, "the drawing")}
			}
			asks := []fold.Ask{read("w1", "width where the jaws grip, one end", "grip-1-"+name, p.Job.Part.Size[axis], 0.2),
				read("w2", "the same, other end", "grip-2-"+name, p.Job.Part.Size[axis], 0.2),
				read("wall", "thinnest wall there", "grip-wall", p.Setup.Jaws.Wall, 0.3)}
			if p.Setup.Jaws.Plug {
				asks = append(asks, fold.Ask{Field: "plug", Label: "plug in, a slip fit all round", Kind: fold.Choice, Options: []string{yes, no},
					What: fold.What{By: "eye", Of: "part", Dir: "plug"}, Want: yes,
					WantWhy: "Without its plug the wall bows by what the jaws press.", Hint: "Turn or mill it to go in by hand; no rattle."})
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome { return judgeGrip(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A nest that is too wide lets the part oval; too narrow, it bows.",
				Act: "Measure the part where it will be gripped.", Read: "Micrometer, light: thin walls give.",
				Caution: "Burrs off by hand, not by a knife toward you.", Rows: Clamped(p).Rows, Scene: kit.Scene(p, v, nil)}
		},
	}
}

// judgeGrip holds the part against its nest, and its wall against what presses it.
func judgeGrip(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	n, ok := facts.Nest.In(v)
	if !ok {
		return o
	}
	w := math.Max(v.Len("w1"), v.Len("w2"))
	gap := float64(n.Wide) - w
	nest := fits(p, v, gap, &o)
	if fold.SameAnswer(v.Text("plug"), no) && len(o.Next) == 0 {
		o.Named = "no-plug"
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "part", Words: "Fit the plug: no handle is gentle without it."},
			fold.Act{Do: "again", Of: "plug"})
	}
	r := press(p, unit.Length(math.Max(gap, 0)))
	o.Checks = append(o.Checks, bows(p, r, &o), gentle(p))
	o.Facts = []fold.Known{facts.Grip.Is(facts.GripFact{Width: unit.Length(w), Gap: unit.Length(gap), Wall: unit.Length(v.Len("wall")),
		Cov: fold.NewCov("width", [][]float64{{growth.MicrometerU * growth.MicrometerU}})})}
	o.Lines = []fold.Row{{Label: "nest less part", Value: gap, Unit: unit.KLength, Signed: true, Big: true, Verdict: nest.Verdict},
		{Label: "wall", Value: v.Len("wall"), Unit: unit.KLength}}
	if r.Why == "" {
		o.Lines = append(o.Lines, fold.Row{Label: "wall bows by itself", Value: float64(r.Moves), Unit: unit.KLength},
			fold.Row{Label: "force that bows it by the limit", Text: desk.Newtons(p, r.Allowed)})
	}
	if r.By != "" {
		o.Lines = append(o.Lines, fold.Row{Label: "the " + r.By + " lets it move", Value: float64(r.Bound), Unit: unit.KLength})
	}
	if p.Setup.Jaws.Shape == "ring" {
		o.Notes = append(o.Notes, "After release a ring springs: its bore is then larger along the jaws, smaller across.")
	}
	o.Notes = append(o.Notes, widthEnters(p))
	o.Learned = fmt.Sprintf("The nest is %s wider than the part.", p.Len(gap))
	return o
}

// fits holds the part against its nest: as wide, and as wide at both ends.
func fits(p *fold.Plan, v fold.View, gap float64, o *fold.Outcome) fold.Check {
	a, b := v.Len("w1"), v.Len("w2")
	taper := judge.Off(p.Limit("jaws.taper"), a, b, 0)
	if taper.Verdict != fold.Pass {
		taper.Words = fmt.Sprintf("It is %s wider at one end: it is gripped there alone, and turns.", p.Len(math.Abs(a-b)))
	}
	c := judge.Most(p.Limit("jaws.nest"), gap, 0)
	switch {
	case gap < 0:
		c = judge.Fails(c, fmt.Sprintf("The part is %s wider than its nest: it sits on the edges. Cut the nest wider.", p.Len(-gap)))
	case c.Verdict != fold.Pass:
		c.Words = fmt.Sprintf("The nest is %s wider than the part: it bears on a line. Skim the nest anew.", p.Len(gap))
	}
	if c.Verdict != fold.Pass {
		o.Named = "nest-wide"
		o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "nest", Words: c.Words})
	} else if taper.Verdict != fold.Pass {
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "part", Words: taper.Words + " Shim one end, or accept it by its number."})
	}
	o.Checks = append(o.Checks, c, taper)
	return c
}

// bows holds how far the wall gives against its limit, where that can be reckoned.
func bows(p *fold.Plan, r pressed, o *fold.Outcome) fold.Check {
	soft := judge.Most(p.Limit("jaws.wall"), math.Min(float64(r.Moves), float64(r.Bound)), 0)
	soft.Limit.ID, soft.Limit.Why = "jaws.bow", "reckoned bow of the wall at the most of the mark"
	if r.Why != "" && !r.bounded(p) {
		return judge.Unknown(soft.Limit, "Not computed: "+r.Why+".")
	}
	if soft.Verdict != fold.Pass {
		soft.Words = fmt.Sprintf("Pressed by %s the wall moves %s and springs back after the cut. A plug, or a gentler mark.",
			desk.Newtons(p, p.Setup.Jaws.Most), p.Len(soft.Got))
		if len(o.Next) == 0 {
			o.Next = append(o.Next, fold.Act{Do: "round", Words: soft.Words})
		}
	}
	return soft
}
