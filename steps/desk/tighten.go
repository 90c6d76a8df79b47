package desk

import (
	"fmt"
	"math"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// keyArm is the arm of a key that a pull is shown for, from the screw to where it is pulled, mm.
const keyArm = 40

// KeyArm is that arm in the job's unit.
func KeyArm(p *fold.Plan) unit.Length {
	if p.Job.Unit == unit.Imperial {
		return 1.5 * unit.Inch
	}
	return keyArm
}

// Arm is the arm of a key as it is said: to a whole millimetre, or a tenth of an inch.
func Arm(p *fold.Plan) string {
	step := 1.0
	if p.Job.Unit == unit.Imperial {
		step = 0.1 * float64(unit.Inch)
	}
	return unit.Show(float64(KeyArm(p)), unit.KLength, p.Job.Unit, step)
}

// PreloadRows show how to set a screw: a torque, the level pull that makes it, and an angle
// beside them where a thread was stripped. No angle is right for every joint.
func (h *Holding) PreloadRows(p *fold.Plan) []fold.Row {
	l := h.Ends.Low.Preload
	st := hold.Stages(h.Set.Torque)
	rows := []fold.Row{
		{Label: "level pull on a key of " + Arm(p), Text: Pull(p, h.Set.Torque)},
		{Label: "torque", Value: float64(h.Set.Torque), Unit: unit.KTorque, Text: Torque(p, float64(h.Set.Torque))},
		{Label: "rounds by torque", Text: fmt.Sprintf("%s, %s, %s", Torque(p, float64(st[0])), Torque(p, float64(st[1])), Torque(p, float64(st[2])))},
		{Label: "preload of a screw", Text: fmt.Sprintf("%s; between %s and %s once scatter and creep are in", newtons(p, float64(l.F)), newtons(p, float64(l.Low)), newtons(p, float64(l.High)))},
		{Label: "weakest", Text: h.Weakest()},
		{Label: "held against strip", Text: fmt.Sprintf("%.2f times, 3 asked", l.SFStrip)},
		{Label: "thread engaged", Value: float64(h.Engage.Engaged), Unit: unit.KLength},
	}
	if h.Set.Angle > 0 && !h.earlier {
		by := h.Set.ByAngle
		rows = append(rows, fold.Row{Label: "turn past snug", Text: fmt.Sprintf("%s; it sets %s to %s", Turn(h.Set.Angle),
			newtons(p, float64(by[0])), newtons(p, float64(by[1])))})
	}
	return rows
}

// AngleNote is what is to be said of an angle past snug, "" when there is nothing.
func (h *Holding) AngleNote() string {
	switch s := h.Set; {
	case s.NoAngle != "":
		return "Set the screws by torque, not by an angle: they may yield before their threads strip."
	case s.Apart:
		return fmt.Sprintf("Torque and angle differ by up to a factor of %.1f. Strip a thread by torque as well before you trust either.",
			s.Factor)
	case s.Angle == 0:
		return "Strip a spare thread of this fixture, count its turn from snug: then an angle serves too."
	}
	return ""
}

// ByHand says how one round of tightening is set: its torque and its level pull, and its angle where there is one.
func (h *Holding) ByHand(p *fold.Plan, share float64) string {
	t := unit.Torque(share) * h.Set.Torque
	words := fmt.Sprintf("%s, a level pull of %s on %s.", Torque(p, float64(t)), Pull(p, t), Arm(p))
	if h.Set.Angle > 0 && !h.earlier {
		words += " By angle: " + Turn(unit.Angle(share)*h.Set.Angle) + " past snug."
	}
	return words
}

// Round is the torque of one round of tightening and, where there is an angle, how far that is past snug, in turns.
func (h *Holding) Round(p *fold.Plan, share float64) (words string, turns float64) {
	words = Torque(p, share*float64(h.Set.Torque))
	if h.Set.Angle > 0 && !h.earlier {
		a := unit.Angle(share) * h.Set.Angle
		words, turns = words+", "+Turn(a)+" past snug", float64(a)/(2*math.Pi)
	}
	return words, turns
}

// Pull is the level pull on the key that makes a torque, and the weight that makes it by a string over a pulley.
func Pull(p *fold.Plan, t unit.Torque) string {
	f, err := hold.LevelPull(t, KeyArm(p))
	if err != nil {
		return "none"
	}
	weight := fmt.Sprintf("%.0f g", hold.Grams(f))
	if p.Job.Unit == unit.Imperial {
		weight = fmt.Sprintf("%.1f oz", hold.Grams(f)/ounce)
	}
	return fmt.Sprintf("%s (%s)", unit.Show(float64(f), unit.KForce, p.Job.Unit, 0.01), weight)
}

// ounce is the avoirdupois ounce, g, by definition.
const ounce = 28.349523125

// Turn is an angle past snug, as a hand sets one.
func Turn(a unit.Angle) string { return fmt.Sprintf("%.0f deg", float64(a)*180/math.Pi) }

// Weakest is what limits the preload.
func (h *Holding) Weakest() string {
	return map[string]string{"strip": "the thread", "crush": "the part under the washer", "proof": "the screw"}[h.Ends.Low.Preload.Governs]
}

func newtons(p *fold.Plan, v float64) string { return unit.Show(v, unit.KForce, p.Job.Unit, 1) }

// Torque is shown in the unit in which it is asked.
func Torque(p *fold.Plan, v float64) string {
	if p.Job.Unit == unit.Metric && TorqueUnit(p, v) == "" {
		return fmt.Sprintf("%.2f N·m", v/1000)
	}
	return unit.Show(v, unit.KTorque, p.Job.Unit, 0)
}

// TorqueUnit is the unit of a bare torque of about that size, as an Ask names it: mN·m below 1 N·m.
func TorqueUnit(p *fold.Plan, v float64) string {
	if p.Job.Unit == unit.Metric && math.Abs(v) < 1000 {
		return "mNm"
	}
	return ""
}

// Strips is the torque from which the preload, at the high end of its scatter, may strip the thread.
func (h *Holding) Strips() float64 {
	l := h.Ends.Low.Preload
	return float64(l.Torque) * l.SFStrip
}
