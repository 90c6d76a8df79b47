package checks

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/pickup"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// tramAdvice are the acts that take a lean away: which way, and how much at which foot.
func tramAdvice(p *fold.Plan, tx, ty float64) []fold.Act {
	foot := p.Job.Machine.Foot
	x := fold.Act{Do: "shim", Of: "column", Dir: ".x", Amount: pickup.Shim(tx, foot[0])}
	to, from := "RIGHT", "LEFT"
	if tx < 0 {
		to, from = from, to
	}
	x.Words = fmt.Sprintf("The top of the head leans %s by %s: turn it toward the %s.", to, p.Slope(math.Abs(tx)), from)
	if foot[0] > 0 {
		x.Words += fmt.Sprintf(" At a column that does not turn: %s under the %s of its foot.", p.Len(x.Amount), to)
	}
	y := fold.Act{Do: "shim", Of: "column", Dir: ".y", Amount: pickup.Shim(ty, foot[1])}
	to, side := "AWAY", "REAR"
	if ty < 0 {
		to, side = "TOWARD YOU", "FRONT"
	}
	y.Words = fmt.Sprintf("The head leans %s by %s: ", to, p.Slope(math.Abs(ty)))
	if foot[1] > 0 {
		y.Words += fmt.Sprintf("%s of shim under the %s of the column's foot.", p.Len(y.Amount), side)
	} else {
		per := kit.Even(p, 100, 100, 1) // round in the job's unit
		y.Words += fmt.Sprintf("shim the %s of the column's foot by %s for every %s of its depth.", side, p.Len(pickup.Shim(ty, per)), p.Len(per))
	}
	return []fold.Act{x, y}
}

// Leaning is a signed slope with the way it goes, in words.
func Leaning(p *fold.Plan, v float64, plus, minus string) string {
	if v < 0 {
		plus = minus
	}
	return p.Slope(math.Abs(v)) + " " + plus
}

// leans shows the two tilts with their guards, and what they do to this job.
func leans(p *fold.Plan, s pickup.Tram, o *fold.Outcome) {
	tx, ty := s.TiltX, s.TiltY
	o.Lines = append(o.Lines, fold.Row{Label: "tilt X, to the RIGHT is +", Value: tx, Guard: budget.OneSided * s.UX, Unit: unit.KSlope,
		Signed: true, Big: true},
		fold.Row{Label: "tilt Y, AWAY is +", Value: ty, Guard: budget.OneSided * s.UY, Unit: unit.KSlope, Signed: true, Big: true},
		fold.Row{Label: "Z travel", Text: columnWords(p)})
	o.Lines = append(o.Lines, LeanEffects(p, tx, ty)...)
	o.Learned = fmt.Sprintf("In X the top of the head leans %s. In Y it leans %s.", Leaning(p, tx, "to the RIGHT", "to the LEFT"),
		Leaning(p, ty, "AWAY", "TOWARD YOU"))
}

// columnWords say what is known of the lean of Z travel: never 0 when it was not measured.
func columnWords(p *fold.Plan) string {
	t := p.Job.Machine.Tram
	if t == nil || t.ZX == nil || t.ZY == nil {
		return "column not measured"
	}
	return fmt.Sprintf("going up %s, %s, by the card", Leaning(p, float64(*t.ZX), "to the RIGHT", "to the LEFT"),
		Leaning(p, float64(*t.ZY), "AWAY", "TOWARD YOU"))
}

// LeanEffects are what the two tilts do on this job: step between passes, dish, lean of a
// wall as thick as the part is, and the kink between the sides.
func LeanEffects(p *fold.Plan, tx, ty float64) []fold.Row {
	var rows []fold.Row
	size := p.Job.Part.Size
	add := func(label string, v float64) {
		rows = append(rows, fold.Row{Label: label, Value: math.Abs(v), Unit: unit.KLength})
	}
	for _, s := range p.Job.Setups {
		t, ok := p.Job.Tools[s.Cut.Tool]
		if !ok || t.Dia <= 0 {
			continue
		}
		for _, a := range []struct {
			axis string
			tilt float64
		}{{"X", tx}, {"Y", ty}} {
			add(fmt.Sprintf("%s step, passes along %s", s.Name, a.axis), fit.StepOver(a.tilt, s.Cut.Ae))
			add(fmt.Sprintf("%s dish, fed along %s", s.Name, a.axis), fit.Dish(a.tilt, t.Dia/2, s.Cut.Ae))
		}
	}
	if size[2] <= 0 {
		return rows
	}
	add("wall facing X leans", fit.WallLean(tx, size[2]))
	add("wall facing Y leans", fit.WallLean(ty, size[2]))
	if s := kit.Side2(p); s != nil {
		along, across, at, ac := tx, "Y", "X", ty
		if s.Flip == "y" {
			along, across, at, ac = ty, "X", "Y", tx
		}
		add("kink of sides in "+at+", doubled", fit.Kink(along, size[2]))
		if ac != 0 {
			rows = append(rows, fold.Row{Label: "kink of sides in " + across, Text: "none: across the flip axis the lean cancels"})
		}
	}
	return rows
}
