package stick

import (
	"fmt"

	calc "fliptrue/calc/stick"
	"fliptrue/calc/unit"
	"fliptrue/calc/witness"
	"fliptrue/steps/checks"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

const yes, no = "yes", "no"

func vacuum(p *fold.Plan) bool { return p.Setup.Hold.Kind == "vacuum" }

// gaugeAsk reads the gauge; what it shows is under the atmosphere.
func gaugeAsk(p *fold.Plan, field, label, dir string, want float64) fold.Ask {
	return fold.Ask{Field: field, Label: label + ", under the atmosphere", Kind: fold.Reading, Unit: unit.KVacuum,
		What:   fold.What{By: "gauge", Of: "vacuum", Dir: dir},
		Window: kit.Around(want/1000, 25.0/1000, "a pump that draws")}
}

// hold draws the part down, or presses it onto its tape, with the dial on it.
func hold(p *fold.Plan) *fold.Spec {
	return &fold.Spec{
		Title: title(p), Needs: fold.Live("seat"), Makes: []fold.FactID{held, "shift"}, Keys: []string{"setups." + p.Setup.Name + ".hold",
			"setups." + p.Setup.Name + ".cut"},
		Asks:  func(v fold.View) []fold.Ask { return holdAsks(p) },
		Judge: func(v fold.View) fold.Outcome { return judgeHold(p, v) },
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "One pump holds it. What the seal leaks is what is left when that stops.",
				Act:     "Draw the part down, dial on it. Then shut the valve for 30 s.",
				Read:    "The gauge at the fixture, not at the pump. The dial against its zero.",
				Caution: "Hands out of the seal. A thin part may burst inward: shard guard, eye protection.", Rows: Face(p).Rows(p),
				Scene: kit.Scene(p, v, nil)}
			if !vacuum(p) {
				pg.Why, pg.Act, pg.Read = "A film creeps and peels: it holds what its own test says, and no more.",
					"Press the part onto its tape, dial on it.", "What was done; the dial against its zero."
				pg.Caution = "Cyanoacrylate: vapour, eye protection, fresh air; not near sparking extraction. No alcohol, no acetone on acrylic."
			}
			return pg
		},
	}
}

func title(p *fold.Plan) string {
	if vacuum(p) {
		return "vacuum on"
	}
	return "tape"
}

func holdAsks(p *fold.Plan) []fold.Ask {
	dial := func(axis, label string) fold.Ask {
		return fold.Ask{Field: axis, Label: label, Kind: fold.Reading, Unit: unit.KLength, What: fold.What{By: "dial", Of: "part", Dir: "hold",
			Axis: axis}, Window: kit.Around(0, 0.1, "a part that stays")}
	}
	moves := []fold.Ask{dial("x", "dial along X, from its zero"), dial("y", "dial along Y, from its zero"),
		dial("z", "dial on the top, from its zero")}
	const zero = "Dial against the part in X, in Y and down on its top; note each zero. "
	if vacuum(p) {
		on := gaugeAsk(p, "on", "gauge, pump on", "on", 75)
		on.Do = []fold.Act{{Do: "hold", Of: "part", Words: zero + "Seal wiped. Pump on."}}
		off := gaugeAsk(p, "off", "gauge 30 s after the valve was shut", "off", 73)
		off.Do = []fold.Act{{Do: "wait", Of: "vacuum", Words: "Shut the valve, pump off. Wait 30 s, read the gauge, then pump on again."}}
		return append([]fold.Ask{on, off}, moves...)
	}
	clean := fold.Ask{Field: "clean", Label: "faces washed with soap and water, dry", Kind: fold.Choice, Options: []string{yes, no},
		What: fold.What{By: "eye", Of: "tape", Dir: "clean"}, Want: yes,
		WantWhy: "Tape on grease holds nothing.", Hint: "Lift the part off in shear, wash and dry, new tape."}
	clean.Do = []fold.Act{{Do: "hold", Of: "part", Words: zero + "Press the part down over all of its tape."}}
	a := p.Setup.Hold.Area
	since := fold.Since{Walk: 4, What: "what the film covers, and how warm it is"}
	covers := fold.Ask{Field: "covers", Since: since, Label: "film under all of " + p.Len(a[0]) + " by " + p.Len(a[1]), Kind: fold.Choice,
		Options: []string{yes, no},
		What:    fold.What{By: "eye", Of: "tape", Dir: "covers"}, Want: yes,
		WantWhy: "What is bare under the part bears nothing.", Hint: "Lift the part off in shear; film over all of it."}
	pressed := fold.Ask{Field: "pressed", Label: "minutes it was pressed before this", Kind: fold.Count,
		What: fold.What{By: "count", Of: "tape", Dir: "minutes"}}
	warm := fold.Ask{Field: "warm", Since: since, Label: "temperature of plate and film", Kind: fold.Reading, Unit: unit.KTemperature,
		Bare: kit.BareTemperature(p),
		What: fold.What{By: "thermometer", Of: "tape"}, Window: kit.Around(20, 15, "a shop")}
	return append([]fold.Ask{clean, covers, pressed, warm}, moves...)
}

func judgeHold(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	if vacuum(p) && !judgeVacuum(p, v, &o) {
		return o
	}
	if !vacuum(p) {
		judgeFilm(p, v, &o)
	}
	x, y, z := v.Len("x"), v.Len("y"), v.Len("z")
	c := judge.Most(p.Limit("hold.move"), checks.MaxAbs([]float64{x, y, z}), 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("It moved by %s while drawn or pressed down: a chip under it, or a bow.", p.Len(c.Got))
		o.Named = "drawn-askew"
		o.Next = append(o.Next, fold.Act{Do: "reopen", Of: "seat", Words: c.Words + " Let it go, lift it, wipe, seat it again."})
	}
	o.Checks = append(o.Checks, c)
	sag(p, &o)
	desk.HoldDown(p, desk.AsFound{}, &o)
	u := witness.DialU(p.Job.Machine.Dial.Graduation)
	s := facts.ShiftFact{DX: unit.Length(x), DY: unit.Length(y),
		Cov: fold.NewCov("dx,dy,rot", [][]float64{{u * u, 0, 0}, {0, u * u, 0}, {0, 0, 0}})}
	o.Facts = []fold.Known{{ID: held}, facts.Shift.Is(s)}
	o.Lines = append(o.Lines, fold.Row{Label: "moved", Value: c.Got, Unit: unit.KLength, Verdict: c.Verdict})
	o.Learned = fmt.Sprintf("It is held; it moved by %s at most.", p.Len(c.Got))
	return o
}

// judgeFilm holds what was done to the film, and how warm it is, against what its test counts for.
func judgeFilm(p *fold.Plan, v fold.View, o *fold.Outcome) {
	again := func(named, words string) {
		if o.Named == "" {
			o.Named = named
			o.Next = append(o.Next, fold.Act{Do: "hold", Of: "part", Words: words}, fold.Act{Do: "round"})
		}
	}
	if fold.SameAnswer(v.Text("clean"), no) {
		again("tape-dirty", "Lift the part off in shear; wash both faces, dry them, new tape.")
	}
	if fold.SameAnswer(v.Text("covers"), no) {
		again("film-short", "Lift the part off in shear; film over all that the job counts.")
	}
	if !v.Walks(4) {
		return
	}
	pressed := judge.Least(p.Limit("hold.pressed"), float64(v.Int("pressed")), 0)
	if pressed.Verdict != fold.Pass {
		pressed.Words = "The film has not wetted both faces yet: it bears less than its test."
		again("film-not-pressed", "Press the part down over all of its film, by hand or under a weight; count the minutes.")
	}
	t, _ := v.Num("warm", unit.KTemperature)
	warm := judge.Most(p.Limit("hold.warm"), t, 0)
	if warm.Verdict != fold.Pass {
		warm.Words = "The film is warmer than the job counts it: it creeps."
		if o.Named == "" {
			o.Named = "film-hot"
			o.Next = append(o.Next, fold.Act{Do: "wait", Of: "fixture", Words: warm.Words + " Let it cool; air or less speed while it is cut."},
				fold.Act{Do: "again", Of: "warm"})
		}
	}
	o.Checks = append(o.Checks, pressed, warm)
}

// judgeVacuum holds the gauge against its gate and the leak against its limit; false where nothing was computed.
func judgeVacuum(p *fold.Plan, v fold.View, o *fold.Outcome) bool {
	on, _ := v.Num("on", unit.KVacuum)
	off, _ := v.Num("off", unit.KVacuum)
	share, tight, err := calc.Leak(on, off, calc.LeakSeconds)
	if err != nil {
		kit.Refuse(o, "hold.gauge", "with the valve shut a vacuum can only fall", err)
		return false
	}
	gate := judge.Least(p.Limit("hold.gate"), on, 0)
	if gate.Verdict != fold.Pass {
		gate.Words = "The gauge is under its gate: no start. Look for the leak, or the pump."
		o.Named = "pump-weak"
	}
	leak := judge.Most(p.Limit("hold.leak"), 100*share, 0)
	if rest := judge.Least(p.Limit("hold.gate"), off, 0); leak.Verdict == fold.Pass &&
		(!tight || gate.Verdict == fold.Pass && rest.Verdict != fold.Pass) {
		leak = judge.Fails(leak, "")
	}
	if leak.Verdict != fold.Pass {
		leak.Words = fmt.Sprintf("Pump off, it loses %.0f %% in 30 s. Were the pump to stop, the part would be loose.", 100*share)
		o.Named = "seal-leaks"
	}
	if gate.Verdict != fold.Pass || leak.Verdict != fold.Pass {
		o.Next = append(o.Next, fold.Act{Do: "hold", Of: "part", Words: "Pump off. Wipe and look over the seal; wood under it wants shellac or " +
			"tape on its skirt. Then draw it down again."}, fold.Act{Do: "round"})
	}
	o.Checks = append(o.Checks, gate, leak)
	return true
}

// sag says how far a thin floor is drawn into a hollow.
func sag(p *fold.Plan, o *fold.Outcome) {
	h := p.Setup.Hold
	if !vacuum(p) || h.Hollow[0] == 0 {
		return
	}
	part, err := p.Job.Library().Like(p.Job.Part.Material)
	if err != nil || !part.Stiffness.Known() {
		o.Notes = append(o.Notes, "How far the floor is drawn in is not computed: give materials."+p.Job.Part.Material+".e with its source.")
		return
	}
	thick := h.Floor
	if thick == 0 {
		thick = p.Job.Part.Size[2]
	}
	b, err := calc.Sag(calc.Face{Long: h.Hollow[0], Short: h.Hollow[1]}, unit.Length(thick), unit.Stress(part.Stiffness.Low),
		unit.Stress(calc.GateMPa))
	if err != nil {
		return
	}
	c := judge.Most(p.Limit("hold.sag"), float64(b.Bow), 0)
	if c.Verdict != fold.Pass {
		c.Words = fmt.Sprintf("A floor of %s over %s by %s is drawn in by %s: fill the hollow with a plateau.", p.Len(thick), p.Len(h.Hollow[0]),
			p.Len(h.Hollow[1]), p.Len(c.Got))
		o.Next = append(o.Next, fold.Act{Do: "look", Of: "fixture", Words: c.Words})
	}
	o.Checks = append(o.Checks, c)
}
