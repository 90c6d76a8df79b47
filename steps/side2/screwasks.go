package side2

import (
	"fmt"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// How screws may have been set. A zero is no torque, and a feeling none.
const (
	byDriver = "torque driver"
	byPull   = "level pull on the key"
	byTurn   = "turn past snug"
	byFeel   = "by feel"
)

var setBy = []string{byDriver, byPull, byTurn, byFeel}

// howSet is how the screws were set, "" where that is not said.
func howSet(v fold.View) string {
	for _, how := range setBy {
		if fold.SameAnswer(v.Text("set"), how) {
			return how
		}
	}
	return ""
}

// firm says that screws in and screws soft are one count.
func (s screwing) firm() bool { return s.p.Short() && !s.p.Reads(fold.Irreplaceable) }

func (s screwing) asks(v fold.View) []fold.Ask {
	h := desk.Hold(s.p, desk.Found(v))
	asks := append(s.roundAsks(v, h), s.setAsks(v, h)...)
	n := fmt.Sprint(len(s.p.Setup.Screws.At))
	soft := kit.Counted("soft", "screws that went soft", "soft-screws", "", "0", "A screw that turned soft holds nothing: it counts 0.",
		"Take it out; mend or retire its thread.")
	loose := fold.Ask{Field: "loose", Label: "washers that a finger can turn", Kind: fold.Count, What: fold.What{By: "finger", Of: "washers",
		Dir: "turn"}, Want: "0",
		WantWhy: "Tight, yet its washer turns: the screw stands on the bottom of its hole.", Hint: "Shorter screw, or one more washer."}
	in := kit.Counted("in", "screws in, paint line drawn across head and part", "screws", "in", n, "The job has "+n+".",
		"Fit the missing screw.")
	soft.Shows, soft.Cure = "soft-thread", softScrew
	loose.Shows, loose.Cure = "screw-bottomed", bottomed
	in = kit.Mend(in, "", fold.Act{Do: "screw", Of: "screws", Words: "Fit the missing screw, to the same torque; paint its line."})
	if s.firm() { // missing or soft, it counts 0
		in.Label, in.What.Dir, in.Shows = "screws in, none soft, line drawn across head and part", "firm", "soft-thread"
		in.WantWhy = "The job has " + n + "; one that turned soft counts 0."
		in.Cure[0].Words = "Fit the missing screw. Of a soft one mend or retire the thread. Then all again, to the same torque."
		asks = append(asks, kit.OneForm("in", loose, in)...)
	} else {
		asks = append(asks, kit.OneForm("in", soft, loose, in)...)
	}
	if h, ok := desk.HeadHeight(s.p); ok {
		asks = append(asks, fold.Ask{Field: "head", Label: "highest head, from its seat in the part up to its top", Kind: fold.Reading,
			Unit: unit.KLength,
			What: fold.What{By: "gauge", Of: "screw-head", Dir: "height"}, Window: kit.Around(h, 0.5, "head and washer by the job")})
	}
	if s.alone && !s.p.OnLocator() { // no witness set shows a part that the screws pulled off its walls
		asks = append(asks, fold.Ask{Field: "walls", Label: "strips " + strip(s.p) + " thick that pull out at " + walls(s.p) + " now",
			Kind: fold.Count, What: fold.What{By: "feeler", Of: "part", Dir: "walls"}, Want: "0",
			WantWhy: "The part left its walls while it was screwed.", Hint: "Loosen all, push it against its walls, tighten again."})
	}
	return asks
}

// roundAsks are the dial after each round of tightening.
func (s screwing) roundAsks(v fold.View, h desk.Holding) (asks []fold.Ask) {
	word := map[string]string{"x": "along X", "y": "along Y", "z": "in height"}
	for i := range stages {
		dial := func(axis, label string) fold.Ask {
			return fold.Ask{Field: fmt.Sprintf("round%d.%s", i+1, axis), Label: label, Kind: fold.Reading, Unit: unit.KLength,
				What: fold.What{By: "dial", Of: "part", Dir: fmt.Sprintf("screw-%d", i+1), Axis: axis}, Window: kit.Around(0, 0.2, "a part that stays")}
		}
		for _, ax := range s.axes {
			a := dial(ax, fmt.Sprintf("dial after %.0f %%, %s, from zero", 100*stages[i], word[ax]))
			if len(s.axes) > 1 {
				a.Form = fmt.Sprintf("round%d", i+1)
			}
			if ax == s.axes[0] {
				a.Do = []fold.Act{{Do: "screw", Of: "screws", Dir: fmt.Sprintf("round-%d", i+1), Amount: stages[i], Words: roundWords(s.p, v, h, i)}}
			}
			asks = append(asks, a)
		}
		if s.alone && i == len(stages)-1 {
			a := dial("z", "dial on the top, in height, from zero")
			a.Since, a.Form = kit.SinceRise, fmt.Sprintf("round%d", i+1)
			asks = append(asks, a)
		}
	}
	return asks
}

// setAsks are how the screws were set, and to what. Records of the first two walks typed a torque, or 0 for by angle.
func (s screwing) setAsks(v fold.View, h desk.Holding) []fold.Ask {
	torque := fold.Ask{Field: "torque", Label: "torque of the screws, one for all (by angle: 0)", Kind: fold.Reading, Unit: unit.KTorque,
		What: fold.What{By: "driver", Of: "screws", Dir: "torque"}}
	if h.Why == "" {
		t := float64(h.Set.Torque)
		torque.Bare, torque.Window = desk.TorqueUnit(s.p, t), kit.Around(t, t, "the working torque; 0 by angle")
	}
	set := fold.Ask{Field: "set", Since: kit.SinceSet, Label: "the screws were set by", Kind: fold.Choice, Options: setBy,
		What: fold.What{By: "eye", Of: "screws", Dir: "set"}}
	asks := []fold.Ask{set}
	if !v.Walks(3) {
		return append(asks, torque)
	}
	torque.Label = "torque of the screws, one for all"
	if torque.Window != nil {
		torque.Window.Half, torque.Window.Why = 0.3*torque.Window.Want, "the working torque"
	}
	switch howSet(v) {
	case byDriver:
		asks = append(asks, torque)
	case byPull:
		asks = append(asks, s.pullAsks(v, h)...)
	case byTurn:
		if h.Why == "" && h.Set.Angle == 0 {
			return asks // which no reading mends
		}
		asks = append(asks, turnAsk(h))
	}
	return asks
}

func turnAsk(h desk.Holding) fold.Ask {
	a := fold.Ask{Field: "turn", Since: kit.SinceSet, Label: "turn past snug, one for all", Kind: fold.Reading, Unit: unit.KAngle,
		What: fold.What{By: "eye", Of: "screws", Dir: "angle"}}
	if t := float64(h.Set.Angle); h.Why == "" && t > 0 {
		a.Window = kit.Around(t, t/2, "the working turn")
	}
	return a
}

// pullAsks are the arm of the key and the pull on it.
func (s screwing) pullAsks(v fold.View, h desk.Holding) []fold.Ask {
	arm := fold.Ask{Field: "arm", Since: kit.SinceSet, Label: "arm of the key, from the screw to where it was pulled", Kind: fold.Reading,
		Unit: unit.KLength,
		What: fold.What{By: "scale", Of: "key", Dir: "arm"}, Window: kit.Around(float64(desk.KeyArm(s.p)), 60, "a usual key")}
	if !v.Has("arm") {
		return []fold.Ask{arm}
	}
	pull := fold.Ask{Field: "pull", Since: kit.SinceSet, Label: "level pull there in the last round", Kind: fold.Reading, Unit: unit.KForce,
		What: fold.What{By: "spring balance", Of: "key", Dir: "pull"}}
	if f, err := hold.LevelPull(h.Set.Torque, unit.Length(v.Len("arm"))); h.Why == "" && err == nil {
		pull.Window = kit.Around(float64(f), float64(f), "the working torque on that arm")
	}
	return []fold.Ask{arm, pull}
}
