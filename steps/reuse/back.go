package reuse

import (
	"fmt"
	"time"

	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

const yes, no = "yes", "no"

// back takes it out of its box: the right one, on a day whose warmth and damp are known.
func back(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "out of its box", Needs: fold.Needs(fold.AsRead("card"), fold.IfBegun("tram")), Makes: []fold.FactID{facts.Back.ID},
		Keys: []string{"setups." + p.Setup.Name + ".fixture"},
		Asks: func(fold.View) []fold.Ask {
			id := fold.Named(fold.Ask{Field: "id", Label: "number engraved on it", Kind: fold.Text, What: fold.What{By: "eye", Of: "fixture",
				Dir: "id"}, Want: p.Job.Fixture.ID,
				WantWhy: "The card belongs to another fixture.", Hint: "Fetch the right fixture, or load its card."})
			id.Do = []fold.Act{{Do: "wipe", Of: "fixture", Words: "Out of its box, screws out. Leave it beside the machine for two hours."}}
			return []fold.Ask{id,
				{Field: "temp", Label: "temperature of the fixture", Kind: fold.Reading, Unit: unit.KTemperature, Bare: kit.BareTemperature(p), What: fold.What{By: "thermometer", Of: "fixture"}, Window: kit.Around(20, 15, "a shop")},
				{Field: "rh", Label: "humidity of the air, percent", Kind: fold.Reading, Unit: unit.Scalar, What: fold.What{By: "hygrometer", Of: "air"}, Window: kit.Around(45, 35, "a shop")}}
		},
		Judge: func(v fold.View) fold.Outcome {
			t, _ := v.Num("temp", unit.KTemperature)
			rh, _ := v.Num("rh", unit.Scalar)
			o := fold.Outcome{Facts: []fold.Known{facts.Back.Is(facts.BackFact{C: t, Read: 1, RH: rh})}, Learned: "This is " + p.Job.Fixture.ID +
				"."}
			m := p.Job.Fixture.AsMade
			if m.Temperature != nil {
				o.Learned += " It is " + kit.Warmth(p, t-float64(*m.Temperature)) + " on the day it was made."
			}
			if m.Humidity > 0 {
				o.Notes = append(o.Notes, fmt.Sprintf("Air %.0f %% damp, %.0f %% as it was made. Plastic follows in weeks, not in hours.",
					rh, m.Humidity))
			}
			if m.Humidity == 0 {
				o.Notes = append(o.Notes, "Its card has no humidity: damp and a bent plate cannot be told apart.")
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A plate that was away has grown with its season; the card says from where.",
				Act: "Take it out of its box; read what is on it, and the day.", Read: "Thermometer on the plate, hygrometer beside it.",
				Caution: "This tool does not see, move or stop the machine. SPINDLE STOPPED before hands go in.", Rows: past(p),
				Scene: kit.Scene(p, v, nil)}
		},
	}
}

// past are the last rows of its history.
func past(p *fold.Plan) (out []fold.Row) {
	s := seen(p)
	for _, x := range s[max(0, len(s)-5):] {
		at := x.At
		if t, err := time.Parse(time.RFC3339, x.At); err == nil {
			at = t.Format("2006-01-02")
		}
		out = append(out, fold.Row{Label: fmt.Sprintf("use %d, %s: bore wider is +", x.Use, at), Value: x.Bore, Unit: unit.KLength, Signed: true})
	}
	return out
}

// look finds what no number shows: cracks round threads, nicked lips, chips.
func look(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "look it over", Needs: facts.Back.Live(), Makes: []fold.FactID{facts.LookedAt.ID},
		Asks: func(fold.View) []fold.Ask {
			crazed := fold.Ask{Field: "crazed", Label: "threads with a crack through their boss", Kind: fold.Count,
				What: fold.What{By: "count", Of: "bosses", Dir: "crazed"}, Want: "0", WantWhy: "A crazed boss lets go hours later.",
				Hint: "Mark it through; use a spare thread, never once more.",
				Do:   []fold.Act{{Do: "look", Of: "fixture", Words: "Lamp from the edge: threads, lips of the bores, pads, trench."}}}
			return []fold.Ask{crazed,
				kit.Counted("lips", "nicks on lips of bores, pads and edge", "lips", "nicks", "0", "A nick is read as the wall.",
					"Scrape it level, away from the face."),
				kit.Counted("chips", "chips left in trench and corners", "chips", "trench", "0", "A chip lifts the part.", "Brush and vacuum.")}
		},
		Judge: func(v fold.View) fold.Outcome {
			n := max(0, v.Int("crazed"))
			o := fold.Outcome{Facts: []fold.Known{facts.LookedAt.Is(facts.LookedFact{Crazed: float64(n)})}, Learned: "No crack, no nick, no chip."}
			if n > 0 {
				o.Named = "boss-crazed"
				left := p.Job.Fixture.Threads.Spares
				o.Next = []fold.Act{{Do: "mark", Of: "boss", Words: fmt.Sprintf("Mark %d through. Spare threads on the card: %d.", n, left)},
					{Do: "again", Of: "crazed"}}
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A crack shows in a lamp from the edge and in no reading.", Act: "Look it over by a lamp held at its edge.",
				Read:    "Count what you see.",
				Caution: "Fresh nicks cut. A crazed boss can let go hours later: do not use it once more.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

// dryFit tries the last part, or scrap of its size.
func dryFit(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "dry fit", Needs: facts.Back.Live(), Makes: []fold.FactID{facts.DryFit.ID},
		Asks: func(fold.View) []fold.Ask {
			goes := fold.Ask{Field: "goes", Label: "it goes in by its own weight", Kind: fold.Choice, Options: []string{yes, no},
				What: fold.What{By: "eye", Of: "trial", Dir: "goes"}, Want: yes, WantWhy: "The pocket is tight in this season.",
				Hint: "Scrape a free wall, never a pad. Do not press.",
				Do:   []fold.Act{{Do: "trial", Of: "part", Words: "The last part, or scrap of its size, into the pocket; push it to the pads."}}}
			return []fold.Ask{goes,
				{Field: "rock", Label: "dial on the part, corners pressed in turn", Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "dial", Of: "trial", Dir: "rock"}, Window: kit.Around(0, 0.3, "a part that lies")},
				{Field: "strips", Label: "pads at which a strip of 0.02 pulls out", Kind: fold.Count, What: fold.What{By: "feeler", Of: "trial", Dir: "pads"}, Want: "0", WantWhy: "The part does not bear there.", Hint: "Wipe the pads; push again."}}
		},
		Judge: func(v fold.View) fold.Outcome {
			r := v.Len("rock")
			if r < 0 {
				r = -r
			}
			c := judge.Most(p.Limit("reuse.rock"), r, 0)
			o := fold.Outcome{Checks: []fold.Check{c}, Facts: []fold.Known{facts.DryFit.Is(facts.Done{})},
				Learned: "The last part still goes in, bears and lies."}
			if c.Verdict != fold.Pass {
				o.Checks[0].Words = fmt.Sprintf("The part rocks by %s: a chip, or a floor that warped.", p.Len(r))
				o.Named = "part-rocks"
				o.Next = []fold.Act{{Do: "wipe", Of: "pocket", Words: o.Checks[0].Words + " Wipe both, then once more."}, {Do: "again", Of: "rock"}}
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "A part that jams dry jams worse with screws in.", Act: "Lower in the last part, or scrap of its size.",
				Read:    "Strips of 0.02 at each pad; the dial while corners are pressed.",
				Caution: "Never press it in: a wedged part splits the pocket.", Scene: kit.Scene(p, v, nil)}
		},
	}
}
