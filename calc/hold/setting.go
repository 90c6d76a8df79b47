package hold

import (
	"math"

	"fliptrue/calc/unit"
)

// Gravity is the standard acceleration of free fall, m/s² (ISO 80000-3): newtons for each kilogram.
const Gravity = 9.80665

// StripShare is the most of the turn, or of the torque, that stripped a thread which a
// screw in use gets. Common practice, from memory.
const StripShare = 0.25

// ApartFactor is how much torque and angle of one setting may differ before it is said.
const ApartFactor = 2.0

// LevelPull is the force that, pulled level and square on a key at arm from the screw's
// axis, gives a torque: by a spring balance, or by a string over a pulley with easy bearings and a
// weight on it. A weight hung straight on the key of an upright screw turns nothing.
func LevelPull(t unit.Torque, arm unit.Length) (unit.Force, error) {
	if err := positive("torque", float64(t), "arm of the key", float64(arm)); err != nil {
		return 0, err
	}
	return unit.Force(float64(t) / float64(arm)), nil
}

// Grams is the mass whose weight is a force, g: what hangs on the string.
func Grams(f unit.Force) float64 { return float64(f) / Gravity * 1000 }

// Gives is what gives first when a screw is turned on and on.
type Gives struct {
	Load   unit.Force
	Torque unit.Torque // at the joint's torque coefficient
	Screw  bool        // the screw yields before the thread strips
}

// Gives is the least of what strips the thread (or pulls the insert) and what the screw
// itself bears, its proof load or 0.2 % yield in tension. The twist of tightening takes up
// to a fifth off the latter.
func (j Joint) Gives() (Gives, error) {
	if err := j.Valid(); err != nil {
		return Gives{}, err
	}
	strip, _, _ := j.limits()
	g := Gives{Load: unit.Force(strip)}
	if proof, _ := j.Class.Proof(j.Thread); float64(proof) < strip {
		g = Gives{Load: proof, Screw: true}
	}
	g.Torque = TorqueFor(g.Load, j.K, j.Thread.D)
	return g, nil
}

// Stripped is a sacrificial thread of the same fixture, screw, washer and scrap of the part,
// turned until it gave: the torque at which, and the turn from snug. 0 is not read.
type Stripped struct {
	Torque unit.Torque
	Angle  unit.Angle
}

// Setting is how a screw is set to its working preload. The torque is the primary way, by
// LevelPull. An angle stands beside it only where a thread was stripped: a constant angle sets
// no preload, for a quarter turn of an M2 is 0.1 mm of stretch, 200 to 600 N by what is clamped.
type Setting struct {
	F       unit.Force    // what is aimed at
	Torque  unit.Torque   // for F
	Angle   unit.Angle    // past snug; 0: none can be given
	ByAngle [2]unit.Force // least and most that the angle sets, the strip load being known by a range
	Factor  float64       // between the force by torque and that by angle, whichever end is farther; 0 without angle
	NoAngle string        // why there is none, though a thread was turned until something gave
	Apart   bool          // Factor is above ApartFactor: say so, and strip a thread by torque as well
}

// Setting finds torque and angle of the working preload F at the low end of the ranges:
//
//	torque = K F d, at most a quarter of what stripped a thread
//	angle = turn to strip * least of {1/4, 1/(3*1.3), least of {crush, proof}/1.3/strip load}
//
// The strip load is there taken at its high end: a thread that is stronger than thought
// turns as far for more force, and crushes the part. With a strip torque given, c.Shear is
// ShearFromTest of it. The share is linear, and the curve bends near strip: with a quarter
// at most it stays on the straight part, and the screw, washer and scrap must be those in use.
func (c Case) Setting(s Stripped) (Setting, error) {
	if err := notNegative("torque that stripped the test thread", float64(s.Torque), "turn from snug to strip", float64(s.Angle)); err != nil {
		return Setting{}, err
	}
	low := c.Joint
	low.Shear, low.Crush = unit.Stress(c.Shear.Low), unit.Stress(c.Crush.Low)
	p, err := low.Working()
	if err != nil {
		return Setting{}, err
	}
	set := Setting{F: p.F, Torque: p.Torque}
	if s.Torque > 0 && StripShare*s.Torque < set.Torque {
		set.Torque = StripShare * s.Torque
		set.F = ForceFrom(set.Torque, low.K, low.Thread.D)
	}
	if s.Angle == 0 {
		return set, nil
	}
	strip := [2]float64{float64(p.Strip), float64(p.Strip)}
	if low.Insert == nil {
		strip[1] *= c.Shear.High / c.Shear.Low
	}
	if proof, _ := low.Class.Proof(low.Thread); strip[1] > float64(proof) {
		set.NoAngle = "the screw may yield before the thread strips: the turn to that says nothing of the preload; set it by torque"
		return set, nil
	}
	// What limits by force, against the strongest thread there may be; what limits as a share, whatever it strips at.
	share := math.Min(float64(p.Crush), float64(p.Proof)) / low.Factors.High / strip[1]
	share = math.Min(share, 1/(low.Factors.Strip*low.Factors.High))
	if s.Torque > 0 {
		share = math.Min(share, float64(set.F)/strip[1])
	}
	share = math.Min(share, StripShare)
	set.Angle = unit.Angle(share) * s.Angle
	set.ByAngle = [2]unit.Force{unit.Force(share * strip[0]), unit.Force(share * strip[1])}
	set.Factor = math.Max(apart(set.F, set.ByAngle[0]), apart(set.F, set.ByAngle[1]))
	set.Apart = set.Factor > ApartFactor*(1+1e-9)
	return set, nil
}

func apart(a, b unit.Force) float64 { return math.Max(float64(a/b), float64(b/a)) }
