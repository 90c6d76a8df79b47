package hold

import (
	"math"

	"fliptrue/calc/unit"
)

// Drilling is one drill cutting one material.
type Drilling struct {
	Dia   unit.Length
	Point unit.Angle
	Feed  unit.Length // per turn
	Helix unit.Angle  // 0 takes 30°
	Kc11  float64
	Mc    float64
	Wear  float64
}

// DrillLoad is what a drill does to the part. All three are estimates.
type DrillLoad struct {
	Thrust unit.Force  // down
	Torque unit.Torque // turning the part
	Lift   unit.Force  // up at breakthrough, when the chisel edge is through and the drill screws itself in
}

// Load estimates thrust, torque and the lift at breakthrough:
//
//	torque = kc f D²/8,  thrust = kc f D/4 sin(point/2),  lift = torque/(D/4) · tan(helix)
//
// kc at the chip thickness f/2 sin(point/2). The lift takes the whole force of the lips
// at half the radius to act on the helix without friction: an upper estimate. Common
// shop formulas, from memory.
func (d Drilling) Load() (DrillLoad, error) {
	if d.Helix == 0 {
		d.Helix = unit.Angle(helix30)
	}
	if err := positive("drill diameter", float64(d.Dia), "drill point angle", float64(d.Point), "feed per turn", float64(d.Feed),
		"helix", float64(d.Helix), "specific force kc1.1", d.Kc11, "wear factor", d.Wear); err != nil {
		return DrillLoad{}, err
	}
	if err := notNegative("exponent mc", d.Mc); err != nil {
		return DrillLoad{}, err
	}
	s := math.Sin(float64(d.Point) / 2)
	f, dia := float64(d.Feed), float64(d.Dia)
	kc := float64(Kienzle(d.Kc11, d.Mc, unit.Length(f/2*s))) * d.Wear
	torque := kc * f * dia * dia / 8
	return DrillLoad{
		Thrust: unit.Force(kc * f / 2 * dia / 2 * s),
		Torque: unit.Torque(torque),
		Lift:   unit.Force(torque / (dia / 4) * math.Tan(float64(d.Helix))),
	}, nil
}
