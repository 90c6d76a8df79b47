package main

import (
	"fmt"

	"fliptrue/calc/jaws"
	"fliptrue/calc/unit"
)

var ringCalc = calculation{
	name: "ring", short: "A thin ring between jaws: the force that is gentle enough, and whether it is enough",
	long: "Pressure spread over an arc of each jaw's nest, the ring free to follow it; a hard nest of the part's own radius\nbounds it. " +
		"After release the bore is larger along the jaws and smaller across by what it was pressed.",
	flags: []calcFlag{
		{name: "radius", usage: "mean radius of the ring, to the middle of its wall", kind: unit.KLength, need: true},
		{name: "wall", usage: "thickness of the wall", kind: unit.KLength, need: true},
		{name: "height", usage: "height gripped, along the axis", kind: unit.KLength, need: true},
		{name: "stiffness", usage: "modulus of elasticity, the low end", kind: unit.KStress, need: true},
		{name: "limit", def: "0.010mm", usage: "largest less smallest diameter that may be", kind: unit.KLength},
		{name: "wrap", def: "0", usage: "arc of the nest either way from the middle of a jaw, degrees; 0 for flat jaws", kind: unit.KAngle, zero: true},
		{name: "cut", usage: "force of the cut in the plane, its corner factor in it", kind: unit.KForce},
		{name: "mu", def: "0.15", usage: "friction at a jaw, the low end", kind: unit.Scalar},
	},
	run: func(in calcIn) (o calcOut, err error) {
		r := jaws.Ring{Radius: in.len("radius"), Wall: in.len("wall"), Height: in.len("height"), E: unit.Stress(in.num["stiffness"])}
		wrap := unit.Angle(in.num["wrap"])
		most, err := r.Allowed(in.len("limit"), wrap)
		if err != nil {
			return o, err
		}
		along, across, err := jaws.Shares(wrap)
		if err != nil {
			return o, err
		}
		o.put("along", "share of P R3/(E I) along the jaws", along, unit.Scalar)
		o.put("across", "share across", across, unit.Scalar)
		o.putAs("allowed", "most that the jaws may press with", float64(most), unit.Show(float64(most), unit.KForce, in.sys, 0.001))
		if r.Wall > jaws.ThinRing*r.Radius {
			o.notes = append(o.notes, "the wall is thick for these formulas: off by more than some percent")
		}
		cut := unit.Force(in.num["cut"])
		if cut == 0 {
			o.notes = append(o.notes, "give --cut for the verdict")
			return o, nil
		}
		g, err := jaws.ToGrip(cut, in.num["mu"], most)
		if err != nil {
			return o, err
		}
		o.put("needed", fmt.Sprintf("least that holds, %g times", jaws.GripSF), float64(g.Needed), unit.KForce)
		if o.says = "PASS"; !g.Gentle {
			o.says, o.no = "FAIL", true
			o.notes = append(o.notes, "no handle is gentle enough: a plug inside, or do not grip it: screws, vacuum")
			if w, err := r.Wrap(g.Needed, in.len("limit")); err == nil && w > wrap {
				o.put("wrap", "nest that would be gentle enough, either way", float64(w), unit.KAngle)
			}
		}
		return o, nil
	},
}
