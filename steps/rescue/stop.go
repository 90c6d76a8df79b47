package rescue

import (
	"slices"

	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// happening is one thing that lets go: what the hand does, and what it never does (common practice).
type happening struct{ what, hand, never string }

var happenings = []happening{
	{"the part moved, rattled or was thrown", "E-STOP; the door stays shut until the spindle stands.", "Never reach or catch. No feed hold alone: the spindle goes on."},
	{"chatter, a screw head turned, powder", "Feed hold. Z up with the spindle turning, then spindle stop.", "Never stop the spindle in the cut: the cutter breaks, the part lifts."},
	{"the cutter broke", "E-STOP. Nothing moves. Tweezers and a magnifier for the shards; then vacuum.", "Never the next line to see."},
	{"the power went", "E-STOP in before it comes back. Wait. Look with a lamp.", "Never home. No move in X or Y."},
	{"the cutter is stuck in the part", "Open the collet, head up, leave the cutter in the part.", "Never pull sideways, never turn it backwards."},
	{"smoke or glow", "E-STOP, main switch off, extraction off. CO2; water only on what has no mains. Metal fines: dry sand.", "Never open the dust bag. Not out at once: out, shut the door, call."},
}

const power, smoke = 3, 5

func happened(v fold.View) int {
	return slices.IndexFunc(happenings, func(h happening) bool { return fold.SameAnswer(v.Text("what"), h.what) })
}

// stop is the first minute.
func stop(p *fold.Plan) *fold.Spec {
	var options []string
	for _, h := range happenings {
		options = append(options, h.what)
	}
	return &fold.Spec{
		Title: "the first minute", Makes: []fold.FactID{"stood"},
		Asks: func(v fold.View) []fold.Ask {
			asks := []fold.Ask{{Field: "what", Label: "what happened", Kind: fold.Choice, Options: options,
				What: fold.What{By: "eye", Of: "part", Dir: "let-go"},
				Do:   []fold.Act{{Do: "stop", Of: "spindle", Words: "E-STOP. Hands off until the spindle stands."}}}}
			k := happened(v)
			if k < 0 {
				return asks
			}
			still := wants("still", "the spindle stands and nothing moves", "spindle", "still", "A hand goes near only what stands still.",
				"Wait. Door shut.")
			still.Do = []fold.Act{{Do: "stop", Of: "spindle", Words: happenings[k].hand + " " + happenings[k].never}}
			asks = append(asks, still)
			if k == smoke {
				asks = append(asks, wants("out", "the fire is out, no glow, no smoke", "part", "fire", "Embers in dust burn on for hours.",
					"Out, shut the door, call the fire brigade."))
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome {
			o := fold.Outcome{Facts: []fold.Known{{ID: "stood"}},
				Learned: "It stands still. Nothing moves before it is written down where it stands."}
			for _, f := range []string{"still", "out"} {
				if fold.SameAnswer(v.Text(f), no) {
					o.Next = append(o.Next, fold.Act{Do: "wait", Of: "spindle", Words: "Wait behind the shut door; ask again."},
						fold.Act{Do: "again", Of: f})
				}
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "More parts and hands are lost in the minute after than in the cut.", Act: "Stop it. Then say what happened.",
				Read:    "What was seen.",
				Caution: "E-STOP. Door shut, hands off, until it stands still.", Scene: kit.Scene(p, v, nil)}
			if k := happened(v); k >= 0 {
				pg.Caution = happenings[k].hand + " " + happenings[k].never
			}
			return pg
		},
	}
}
