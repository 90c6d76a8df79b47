package rescue

import (
	"fmt"

	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// stays are the questions that show whether it still holds.
func stays(p *fold.Plan, v fold.View) []fold.Ask {
	n := len(p.Setup.Screws.At)
	if k, ok := facts.Screws.In(v); ok {
		n = int(k.N)
	}
	if n == 0 {
		return []fold.Ask{wants("firm", "the part is where it was, no edge lifted", "part", "firm", "It has let go once.",
			"Stop. Hold it again.")}
	}
	return []fold.Ask{
		{Field: "lines", Label: "paint lines unbroken across head and part, new ones", Kind: fold.Count, What: fold.What{By: "eye", Of: "paint-lines", Dir: "held"}, Want: fmt.Sprint(n),
			WantWhy: "A turned line is a screw that has let go.", Hint: "Stop. Take stock again, hold it again."},
		kit.Counted("soft", "screws that went soft when tried again", "soft-screws", "", "0", "A soft screw holds nothing.",
			"Take it out; hold it again.")}
}

// skim is the first cut after it let go.
func skim(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "first cut", Needs: fold.Live(facts.Restart.ID, facts.Screws.ID), Makes: []fold.FactID{"skimmed"},
		Pause: &fold.Pause{Heading: "IT HAS LET GO ONCE", Lost: "Stop if the pitch changes, a screw head moves, or chips turn to powder or melt.",
			Ask: func(fold.View) fold.Ask {
				a := fold.Ask{Label: "tool number in the spindle", Kind: fold.Count, What: fold.What{By: "eye", Of: "spindle", Dir: "tool"}}
				if n := p.Setup.Cut.Tool; n > 0 {
					a.Want, a.WantWhy, a.Hint = fmt.Sprint(n), "Another tool cuts another depth.", "Fit "+kit.ToolName(p, fmt.Sprint(n))+"."
				}
				a.Do = []fold.Act{{Do: "remove", Of: "probe", Words: kit.FinderOut(p) + ". Paint a new line over each screw head and part."}}
				return a
			}},
		Asks: func(v fold.View) []fold.Ask {
			asks := stays(p, v)
			asks[0].Do = []fold.Act{{Do: "skim", Of: "part",
				Words: "Hands out, door shut. Ten seconds at 10 % feed, hand on feed hold. Stop, look, turn each screw by hand."}}
			step := fold.Ask{Field: "step", Label: "a fingernail feels a step where the cut went on", Kind: fold.Choice, Options: []string{no, yes},
				What: fold.What{By: "finger", Of: "part", Dir: "step"}}
			return append(asks, step)
		},
		Judge: func(v fold.View) fold.Outcome {
			o := fold.Outcome{Facts: []fold.Known{{ID: "skimmed"}}, Learned: "It held under the first load."}
			letGo(p, v, &o)
			if fold.SameAnswer(v.Text("step"), yes) {
				o.Notes = append(o.Notes, "A step is felt: it was foreseen, or the height is off. Measure it before the next pass.")
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "The first load after a loss is the one that shows what the new hold is worth.",
				Act: "Begin slow. Stop, look, turn each screw by hand.", Read: "Paint lines that are unbroken; screws that went soft.",
				Caution: "This tool does not stop the machine. Door shut, eye protection, out of the tool plane.", Scene: kit.Scene(p, v, nil)}
		},
	}
}

// letGo is the act where it does not hold.
func letGo(p *fold.Plan, v fold.View, o *fold.Outcome) {
	for _, a := range stays(p, v) {
		if v.Has(a.Field) && !fold.SameAnswer(v.Text(a.Field), a.Want) {
			o.Named = "not-held"
			o.Next = []fold.Act{{Do: "reopen", Of: "look", Words: "Stop here. Take stock again: what turns, what holds. Then hold it again."}}
			return
		}
	}
}

// release is the rescue's own.
func release(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: "release", Needs: fold.Needs(fold.Live("offset", "echo", facts.Screws.ID, facts.Shift.ID, facts.Restart.ID, "skimmed"),
			fold.AsLeft("identity", "bore", "floor", "seat", "drift", "seat/located"),
			fold.IfThere("part/thickness", "part/width-x", "part/width-y", "part/edges", "part/hours", "part/air", "tram")),
		Makes: []fold.FactID{"release"}, Keys: []string{"allowance"},
		Asks: func(v fold.View) []fold.Ask {
			through := stays(p, v)[0]
			through.Label += ", seen through the shut door"
			return []fold.Ask{through, wants("clear", "no shard, no chip under or beside the part", "part", "shards",
				"A shard in the pocket is a tilt.", "Vacuum, tweezers, magnifier. Then look again.")}
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			letGo(p, v, &o)
			if fold.SameAnswer(v.Text("clear"), no) && len(o.Next) == 0 {
				o.Next = []fold.Act{{Do: "wipe", Of: "pocket", Words: "Vacuum, tweezers, magnifier."}, {Do: "again", Of: "clear"}}
			}
			decided(p, v, &o)
			o.Notes = append(o.Notes, "A rescued part is never counted for the fixture's card.")
			o.Facts = append(o.Facts, facts.Release.Is(facts.Done{}))
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "It is released as what it is now: a part that moved, found again.",
				Act: "Look through the door, count the paint lines, then decide.", Read: "The value seen.",
				Caution: "Door shut, eye protection, extraction and mask for dust. This tool does not stop the machine.", Scene: kit.Scene(p, v, nil)}
		},
	}
}
