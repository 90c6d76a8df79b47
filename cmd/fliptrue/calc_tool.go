package main

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

var drillCalc = calculation{
	name: "drill", short: "Depths, pecks and floor of a hole: through to a relief, or blind and tapped",
	long: "Without --thread: a hole drilled through a seated part, its full diameter 0.2 past the seat.\nWith --thread and --base: a blind " +
		"tapped hole; full and tip depth, and the floor left.",
	flags: []calcFlag{
		{name: "dia", usage: "drill diameter", kind: unit.KLength, need: true},
		{name: "point", def: "118", usage: "point angle, degrees", kind: unit.KAngle},
		{name: "relief", usage: "depth of the counterbore under the seat, or over the thread", kind: unit.KLength, zero: true},
		{name: "thread", usage: "thread to tap, as M2 or 4-40", word: true},
		{name: "depth", usage: "full thread wanted", kind: unit.KLength},
		{name: "base", usage: "thickness drilled into", kind: unit.KLength},
		{name: "over", usage: "thickness of the part drilled through, or over the base when Z zero is on its top", kind: unit.KLength, zero: true},
		{name: "tap", def: "second", usage: "tap in hand: taper, second or bottoming", word: true},
		{name: "lead", usage: "threads of lead of that tap, when known", kind: unit.Scalar},
		{name: "peck", def: "1", usage: "peck in diameters", kind: unit.Scalar},
	},
	run: func(in calcIn) (o calcOut, err error) {
		dia, point := in.len("dia"), unit.Angle(in.num["point"])
		deep := unit.Length(0)
		if !(point < math.Pi) {
			return o, fmt.Errorf("drill point angle %g degrees must lie below 180; read it off the drill's box", float64(point)*180/math.Pi)
		}
		if in.text["thread"] == "" {
			h := hold.Through{Drill: dia, Point: point, Relief: in.len("relief"), ReliefDia: 2 * dia}
			if h.Relief == 0 {
				h.Relief = 10 // only the tip is asked
			}
			d, err := h.Depth()
			if err != nil {
				return o, err
			}
			o.put("point", "point", float64(hold.PointLength(dia, point)), unit.KLength)
			o.put("tip", "tip below the seat", float64(d.Tip), unit.KLength)
			if over := in.len("over"); over > 0 {
				deep = over + d.Tip
				o.put("whole", "tip below the top of the part", float64(deep), unit.KLength)
			} else {
				o.notes = append(o.notes, "give --over, the thickness drilled through, for the pecks")
			}
			o.put("shy_opening", "opening, were the tip taken for the full diameter", float64(d.ShyOpening), unit.KLength)
			if in.len("relief") > 0 {
				o.put("left", "relief left under the point", float64(d.Left), unit.KLength)
				if o.says = "PASS"; d.Left < 0 {
					o.says, o.no = "FAIL", true
					o.put("enters", "the point enters the thread, across", float64(d.Enters), unit.KLength)
				}
			}
		} else {
			t, err := hold.ThreadNamed(in.text["thread"])
			if err != nil {
				return o, err
			}
			lead := in.num["lead"]
			if lead == 0 {
				for _, l := range hold.Leads {
					if l.Tap == in.text["tap"] {
						lead = l.Usual
					}
				}
				if lead == 0 {
					return o, fmt.Errorf("tap %q is not known; write taper, second or bottoming", in.text["tap"])
				}
			}
			d, err := hold.Blind{Drill: dia, Point: point, Pitch: t.P, Thread: in.len("depth"), Relief: in.len("relief"), Lead: lead,
				Base: in.len("base"), From: in.len("over")}.Depth()
			if err != nil {
				return o, err
			}
			deep = d.Tip
			o.put("point", "point", float64(d.Point), unit.KLength)
			o.put("full", "full diameter down to", float64(d.Full), unit.KLength)
			o.put("tip", "tip down to", float64(d.Tip), unit.KLength)
			o.put("tip_z", "tip at W Z", float64(d.TipZ), unit.KLength)
			o.put("left", "floor left under the tip", float64(d.Left), unit.KLength)
			if o.says = "PASS"; !d.Enough {
				o.says, o.no = "FAIL", true
			}
			if hs, err := hold.HolesOf(t); err == nil {
				o.put("tap_drill", "tap drill of "+t.Name, float64(hs.Tap), unit.KLength)
				o.put("clearance_fine", "clearance hole, fine", float64(hs.Fine), unit.KLength)
				o.put("clearance_medium", "clearance hole, medium", float64(hs.Medium), unit.KLength)
				o.notes = append(o.notes, fmt.Sprintf("hole sizes: %s, %s", hs.Source, hs.Flag))
			}
			o.notes = append(o.notes, fmt.Sprintf("lead of %g threads, %s for chips, floor of at least %s: common practice", lead,
				in.show(0.5, unit.KLength), in.show(1.5, unit.KLength)))
		}
		if deep == 0 {
			return o, nil
		}
		n, err := hold.Pecks(deep, dia, in.num["peck"])
		if err != nil {
			return o, err
		}
		o.putAs("pecks", "pecks, each drawn out fully", float64(n), fmt.Sprint(n))
		return o, nil
	},
}

var bowCalc = calculation{
	name: "bow", short: "Bow of a wall in a vise, or of a part under a strap over a hollow",
	long: "A wall is a strip of its free length, its height (or gripped width) and its thickness, bent by a\nforce spread along it; " +
		"--centre " +
		"puts the force in its middle, as a strap's tip does. A strip with one\nfree end is said at that end.\n--plate takes length and height " +
		"as a plate held at all four edges, the force spread over it.",
	flags: []calcFlag{
		{name: "length", usage: "free length", kind: unit.KLength, need: true},
		{name: "height", usage: "height of the wall, or width of the strip", kind: unit.KLength, need: true},
		{name: "thick", usage: "thickness in the direction of bending", kind: unit.KLength, need: true},
		{name: "force", usage: "force", kind: unit.KForce, need: true},
		{name: "material", usage: "material, for its stiffness", word: true},
		{name: "e", usage: "stiffness, instead of a material", kind: unit.KStress},
		{name: "ends", def: "fixed", usage: "fixed, simple or free (one end)", word: true},
		{name: "allowed", def: "0.010", usage: "bow allowed", kind: unit.KLength},
		{name: "centre", def: "false", usage: "force in the middle", word: true},
		{name: "plate", def: "false", usage: "plate held at four edges", word: true},
	},
	run: func(in calcIn) (o calcOut, err error) {
		e := in.num["e"]
		if e == 0 {
			m, err := hold.Library{}.Like(in.text["material"])
			if err != nil {
				return o, err
			}
			if !m.Stiffness.Known() {
				return o, fmt.Errorf("no stiffness of %s is known; give --e with your own number", m.Name)
			}
			e = m.Stiffness.Low
			o.notes = append(o.notes, source("stiffness of "+m.Name, m.Stiffness, unit.KStress, in.sys)+"; the low end is used")
		}
		f := unit.Force(in.num["force"])
		allowed := in.len("allowed")
		judge := func(bow unit.Length, far bool) {
			o.put("bow", "bow; springs back by as much", float64(bow), unit.KLength)
			if o.says = "PASS"; bow > allowed {
				o.says, o.no = "FAIL", true
			}
			if far {
				o.notes = append(o.notes, "bow above half the thickness: the formula ends, the answer is \"far too much\"")
			}
		}
		if in.yes["plate"] {
			long, short := max(in.len("length"), in.len("height")), min(in.len("length"), in.len("height"))
			p := hold.Plate{Long: long, Short: short, Thick: in.len("thick"), E: unit.Stress(e), Clamped: in.text["ends"] == "fixed"}
			b, err := p.Pressed(unit.Stress(float64(f) / float64(long*short)))
			if err != nil {
				return o, err
			}
			judge(b.Bow, b.FarOver)
			o.put("stress", "largest stress", float64(b.Stress), unit.KStress)
			return o, nil
		}
		s, ok := map[string]hold.Support{"fixed": hold.Fixed, "simple": hold.Simple, "free": hold.Cantilever}[in.text["ends"]]
		if !ok {
			return o, fmt.Errorf("ends %q are not known; write fixed, simple or free", in.text["ends"])
		}
		b := hold.Beam{Length: in.len("length"), Width: in.len("height"), Thick: in.len("thick"), E: unit.Stress(e)}
		if err := b.Valid(); err != nil {
			return o, err
		}
		if in.yes["centre"] {
			bow := b.Middle(s, f)
			judge(bow, bow > b.Thick/2)
			o.put("allowed_force", "force for the allowed bow", float64(f)*float64(allowed/bow), unit.KForce)
			return o, nil
		}
		q, err := hold.Squeezed(b, s, f, allowed)
		if err != nil {
			return o, err
		}
		judge(q.Bow, q.FarOver)
		o.put("allowed_force", "force for the allowed bow", float64(q.Allowed), unit.KForce)
		if !q.Gentle {
			o.notes = append(o.notes, hold.TooHard)
		}
		return o, nil
	},
}

var reachCalc = calculation{
	name: "reach", short: "Reach, bending and breaking force of a cutter",
	flags: []calcFlag{
		{name: "dia", usage: "cutting diameter", kind: unit.KLength, need: true},
		{name: "flute", usage: "flute length", kind: unit.KLength, need: true},
		{name: "shank", usage: "shank diameter", kind: unit.KLength, need: true},
		{name: "stickout", usage: "tip to holder", kind: unit.KLength, need: true},
		{name: "neck-dia", usage: "diameter of a relieved neck", kind: unit.KLength},
		{name: "neck", usage: "length of the neck above the flutes", kind: unit.KLength},
		{name: "ap", usage: "axial depth of one pass", kind: unit.KLength},
		{name: "depth", usage: "lowest tip below the top of the wall beside it", kind: unit.KLength},
		{name: "force", usage: "force at the tip", kind: unit.KForce},
		{name: "fz", usage: "feed per tooth, for the largest runout", kind: unit.KLength},
		{name: "ball", def: "false", usage: "ball-ended", word: true},
		{name: "step", usage: "stepover of a ball", kind: unit.KLength},
	},
	run: func(in calcIn) (o calcOut, err error) {
		st, err := hold.Cutter{Dia: in.len("dia"), Flute: in.len("flute"), NeckDia: in.len("neck-dia"), Neck: in.len("neck"),
			Shank: in.len("shank"), Stickout: in.len("stickout")}.Bending()
		if err != nil {
			return o, err
		}
		per := 1.0 // from mm for each N to the unit shown
		if in.sys == unit.Imperial {
			per = float64(unit.PoundForce) / float64(unit.Inch)
		}
		var each []string
		for _, s := range st.Sections {
			each = append(each, fmt.Sprintf("%s %.6f", s.Name, s.Bend*per))
		}
		o.putAs("slender", "flutes over diameter", st.Slender, fmt.Sprintf("%.1f", st.Slender))
		o.putAs("bend_per_n", "bending for each "+unit.UnitName(unit.KForce, in.sys), st.Total, fmt.Sprintf("%.6f %s (%s)", st.Total*per,
			unit.UnitName(unit.KLength, in.sys), strings.Join(each, ", ")))
		o.put("break", "breaking force", float64(st.Break), unit.KForce)
		o.say("break_at", "breaks", st.Where())
		o.put("force_10um", "force for a bend of "+in.show(0.010, unit.KLength), float64(st.ForceFor(0.010)), unit.KForce)
		if f := in.num["force"]; f > 0 {
			o.put("bend", "bend under the force", f*st.Total, unit.KLength)
			if o.says = "PASS"; f > float64(st.Break) {
				o.says, o.no = "FAIL", true
				o.notes = append(o.notes, "the force breaks it")
			}
		}
		if in.given["depth"] {
			p := hold.Plunge{Ap: in.len("ap"), Depth: in.len("depth"), Flute: in.len("flute"), Neck: in.len("neck-dia"), Reach: in.len("flute") +
				in.len("neck"),
				Dia: in.len("dia"), Shank: in.len("shank"), Stickout: in.len("stickout")}
			if p.Ap == 0 {
				p.Ap = min(p.Depth, p.Flute)
			}
			faults, err := p.Faults()
			if err != nil {
				return o, err
			}
			if o.says == "" {
				o.says = "PASS"
			}
			if len(faults) > 0 {
				o.says, o.no = "FAIL", true
			}
			o.notes = append(o.notes, faults...)
		}
		if fz := in.len("fz"); fz > 0 {
			o.put("runout", "largest runout, half the chip", float64(hold.Runout(fz)), unit.KLength)
		}
		if in.yes["ball"] {
			if ap := in.len("ap"); ap > 0 {
				d, err := hold.BallDiameter(in.len("dia"), ap)
				if err != nil {
					return o, err
				}
				o.put("effective", "cuts on a diameter of", float64(d), unit.KLength)
			}
			if s := in.len("step"); s > 0 {
				r, err := hold.Scallop(in.len("dia"), s)
				if err != nil {
					return o, err
				}
				o.putAs("scallop", "ridge left", float64(r), unit.Show(float64(r), unit.KLength, in.sys, 1e-6))
			}
		}
		o.notes = append(o.notes, "carbide, "+in.rough(600_000, unit.KStress)+", flutes carry with 0.8 of their diameter, "+
			in.rough(1000, unit.KStress)+" allowed: common practice, from memory")
		return o, nil
	},
}
