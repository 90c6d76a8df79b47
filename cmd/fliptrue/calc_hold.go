package main

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

var strapCalc = calculation{
	name: "strap", short: "Force of a strap clamp from its bolt's torque and its lever",
	flags: []calcFlag{
		{name: "bolt", usage: "bolt, as M6 or 1/4-20", word: true, need: true},
		{name: "torque", usage: "torque, as 2Nm or 20in-lb", kind: unit.KTorque, need: true},
		{name: "heel", usage: "heel block to bolt", kind: unit.KLength, need: true},
		{name: "tip", usage: "bolt to tip", kind: unit.KLength, need: true},
		{name: "mu", def: "0.15", usage: "friction under the part", kind: unit.Scalar},
		{name: "k", def: "0.2", usage: "torque coefficient", kind: unit.Scalar},
	},
	run: func(in calcIn) (o calcOut, err error) {
		d, err := hold.BoltDiameter(in.text["bolt"])
		if err != nil {
			return o, err
		}
		f, err := hold.Strap{Bolt: unit.Length(d), Torque: unit.Torque(in.num["torque"]), K: in.num["k"], Heel: in.len("heel"),
			Tip: in.len("tip"), Mu: in.num["mu"]}.Force()
		if err != nil {
			return o, err
		}
		o.put("bolt", "in the bolt", float64(f.Bolt), unit.KForce)
		o.put("tip", "at the tip, on the part", float64(f.Tip), unit.KForce)
		o.put("tip_low", "at least, torque known to 30 %", float64(f.TipLow), unit.KForce)
		o.put("heel", "on the heel block", float64(f.Heel), unit.KForce)
		o.put("side", "sideways by friction, one face", float64(f.Side), unit.KForce)
		if f.Reversed {
			o.put("swapped", "at the tip, were the lever turned round", float64(f.Swapped), unit.KForce)
			o.notes = append(o.notes, f.Name())
		}
		o.notes = append(o.notes, "the face under the strap helps only after the bolt has bent; "+estimateWords)
		return o, nil
	},
}

// jointFlags are what thread and ceiling share.
var jointFlags = []calcFlag{
	{name: "thread", usage: "screw, as M2 or 4-40", word: true, need: true},
	{name: "fixture", usage: "material that the thread is in", word: true, need: true},
	{name: "part", usage: "material of the part", word: true, need: true},
	{name: "length", usage: "screw under its head", kind: unit.KLength, need: true},
	{name: "through", usage: "part under the washer", kind: unit.KLength, need: true},
	{name: "relief", usage: "counterbore over the thread", kind: unit.KLength, zero: true},
	{name: "depth", usage: "full thread below the relief; without it the screw is taken not to bottom", kind: unit.KLength},
	{name: "washer", usage: "outside diameter; none: the screw's head", kind: unit.KLength},
	{name: "washer-thickness", def: "0.3", usage: "thickness", kind: unit.KLength},
	{name: "hole", usage: "hole through the part; none: medium series", kind: unit.KLength},
	{name: "class", def: "A2-70", usage: "strength class of the screw", word: true},
	{name: "k", def: "0.25", usage: "torque coefficient", kind: unit.Scalar},
	{name: "tau", usage: "shear strength of the thread's material, instead of the table", kind: unit.KStress},
	{name: "crush", usage: "pressure the part bears, instead of the table", kind: unit.KStress},
	{name: "strip-torque", usage: "torque that stripped a sacrificial thread", kind: unit.KTorque},
	{name: "strip-angle", usage: "turn from snug at which it stripped, degrees", kind: unit.KAngle},
	{name: "pull-out", usage: "pull-out load of an insert, as tested", kind: unit.KForce},
}

// bearing is the face under a head: of its washer and hole where they are given, else the standard ones of its thread.
func (in calcIn) bearing(t hold.Thread) (area float64, err error) {
	face, hole := in.len("washer"), in.len("hole")
	if face == 0 {
		hd, err := hold.HeadOf(t)
		if err != nil {
			return 0, err
		}
		face = cmp.Or(hd.Bearing, hd.DMin)
	}
	if hole == 0 {
		hs, err := hold.HolesOf(t)
		if err != nil {
			return 0, err
		}
		hole = hs.Medium
	}
	return hold.BearingArea(face, hole)
}

// joint reads a screw joint with the ranges of what it is made of.
func (in calcIn) joint(o *calcOut) (c hold.Case, part hold.Material, e hold.Engagement, err error) {
	t, err := hold.ThreadNamed(in.text["thread"])
	if err != nil {
		return
	}
	var base hold.Material
	var lib hold.Library
	if part, err = lib.Like(in.text["part"]); err != nil {
		return
	}
	if base, err = lib.Like(in.text["fixture"]); err != nil {
		return
	}
	washer := unit.Length(0)
	if in.len("washer") > 0 {
		washer = in.len("washer-thickness")
	}
	if e, err = (hold.Stack{Thread: t, Length: in.len("length"), Washer: washer, Through: in.len("through"), Relief: in.len("relief"),
		Depth: cmp.Or(in.len("depth"), in.len("length"))}).Engage(); err != nil {
		return
	}
	area, err := in.bearing(t)
	if err != nil {
		return
	}
	cl, err := hold.ClassNamed(in.text["class"])
	if err != nil {
		return
	}
	c = hold.Case{Joint: hold.Joint{Thread: t, Engaged: e.Engaged, Bearing: area, Class: cl, K: in.num["k"], Factors: hold.Usual},
		Shear: base.Shear, Crush: part.Crush, Kc11: part.Kc11, Mu: hold.HoldingMu}
	if v := in.num["tau"]; v > 0 {
		c.Shear = hold.Exactly(v, "given on the command line")
	}
	if v := in.num["crush"]; v > 0 {
		c.Crush = hold.Exactly(v, "given on the command line")
	}
	if v := in.num["strip-torque"]; v > 0 {
		if c.Shear, err = hold.ShearFromTest(t, e.Engaged, unit.Torque(v), in.num["k"]); err != nil {
			return
		}
		c.Joint.Tested = true
	}
	if v := in.num["pull-out"]; v > 0 {
		c.Joint.Insert = &hold.Insert{PullOut: unit.Force(v), Source: "given on the command line"}
	} else if err = c.Shear.Valid("shear strength of a thread in " + base.Name); err != nil {
		return
	}
	if err = c.Crush.Valid("pressure that " + part.Name + " bears"); err != nil {
		return
	}
	if c.Joint.Insert == nil {
		o.notes = append(o.notes, source("shear strength of a thread in "+base.Name, c.Shear, unit.KStress, in.sys))
	}
	o.notes = append(o.notes, source("pressure that "+part.Name+" bears", c.Crush, unit.KStress, in.sys))
	return
}

func source(what string, r hold.Range, k unit.Kind, sys unit.System) string {
	v := unit.Rough(r.Low, k, sys)
	if r.High != r.Low {
		v += " to " + unit.Rough(r.High, k, sys)
	}
	if u := unit.UnitName(k, sys); u != "" {
		v += " " + u
	}
	return fmt.Sprintf("%s: %s, %s (%s)", what, v, r.Flag, r.Source)
}

var threadCalc = calculation{
	name: "thread", short: "Working preload, torque and level pull of a screw: thread, part or screw, the weakest",
	long: `The working preload is that of the weakest of thread, part and screw at the low end of what is known.
It is set by torque: a level pull, square to the key, by a spring balance or by a string over a pulley
with a weight on it. A weight hung straight on the key of an upright screw turns nothing.
An angle past snug is given only with --strip-angle, of a sacrificial thread with the same screw, washer
and scrap of the part: no angle is right for every joint.`,
	flags: append(append([]calcFlag{}, jointFlags...),
		calcFlag{name: "arm", def: "40", usage: "arm of the key, from the screw to where it is pulled", kind: unit.KLength}),
	run: runThread,
}

func runThread(in calcIn) (o calcOut, err error) {
	c, _, e, err := in.joint(&o)
	if err != nil {
		return o, err
	}
	j := c.Joint
	j.Shear, j.Crush = unit.Stress(c.Shear.Low), unit.Stress(c.Crush.Low)
	p, err := j.Working()
	if err != nil {
		return o, err
	}
	gives, err := j.Gives()
	if err != nil {
		return o, err
	}
	set, err := c.Setting(hold.Stripped{Torque: unit.Torque(in.num["strip-torque"]), Angle: unit.Angle(in.num["strip-angle"])})
	if err != nil {
		return o, err
	}
	if err = in.turning(&o, set); err != nil {
		return o, err
	}
	o.put("preload", "preload", float64(p.F), unit.KForce)
	o.put("low", "at least, after scatter and creep", float64(p.Low), unit.KForce)
	o.put("high", "at most", float64(p.High), unit.KForce)
	o.say("governs", "weakest", map[string]string{"strip": "thread", "crush": "part under the washer", "proof": "screw"}[p.Governs])
	o.put("strip", "thread strips at", float64(p.Strip), unit.KForce)
	o.put("crush", "part crushes at", float64(p.Crush), unit.KForce)
	o.put("screw", "screw may carry", float64(p.Proof), unit.KForce)
	o.put("sf_strip", "thread held against strip (3)", p.SFStrip, unit.Scalar)
	first, label := "thread", "turned on, the thread strips at"
	if j.Insert != nil {
		first, label = "insert", "turned on, the insert pulls out at"
	}
	if gives.Screw {
		first, label = "screw", "turned on, the screw yields at"
		o.notes = append(o.notes, "the screw yields before the thread strips; the twist of tightening takes up to a fifth off that torque")
	}
	o.put("gives", label, float64(gives.Torque), unit.KTorque)
	o.say("gives_first", "what gives first", first)
	o.put("engaged", "thread engaged", float64(e.Engaged), unit.KLength)
	o.notes = append(o.notes, estimateWords)
	return o, nil
}

// turning puts how to set the preload: torque, the pull that makes it, and an angle where a thread was stripped.
func (in calcIn) turning(o *calcOut, set hold.Setting) error {
	st := hold.Stages(set.Torque)
	var torques, pulls []string
	for _, t := range st {
		f, err := hold.LevelPull(t, in.len("arm"))
		if err != nil {
			return err
		}
		torques = append(torques, unit.Show(float64(t), unit.KTorque, in.sys, 0))
		weight := fmt.Sprintf("%.0f g", hold.Grams(f))
		if in.sys == unit.Imperial {
			weight = fmt.Sprintf("%.1f oz", hold.Grams(f)/28.349523125) // avoirdupois, by definition
		}
		pulls = append(pulls, fmt.Sprintf("%s (%s on the string)", unit.Show(float64(f), unit.KForce, in.sys, 0.01), weight))
	}
	pull, _ := hold.LevelPull(set.Torque, in.len("arm"))
	o.put("torque", "torque", float64(set.Torque), unit.KTorque)
	o.say("rounds", "rounds by torque", strings.Join(torques, ", "))
	o.putAs("pull", "level pull on a key of "+unit.Show(in.num["arm"], unit.KLength, in.sys, 0), float64(pull), pulls[2])
	o.say("rounds_pull", "rounds by level pull", strings.Join(pulls, ", "))
	if set.NoAngle != "" {
		o.putAs("angle", "turn past snug", math.NaN(), "none: the screw may yield first")
		o.notes = append(o.notes, set.NoAngle)
		return nil
	}
	if set.Angle == 0 {
		o.putAs("angle", "turn past snug", math.NaN(), "none: no thread was stripped")
		o.notes = append(o.notes, "no angle is right for every joint: with the same screw, washer and scrap of the part, strip a sacrificial "+
			"thread, count its turn from snug, give --strip-angle")
		return nil
	}
	o.putAs("angle", "turn past snug", float64(set.Angle), fmt.Sprintf("%.0f deg", float64(set.Angle)*180/math.Pi))
	o.say("by_angle", "preload by the angle", unit.Show(float64(set.ByAngle[0]), unit.KForce, in.sys, 1)+" to "+
		unit.Show(float64(set.ByAngle[1]), unit.KForce, in.sys, 1))
	o.put("apart", "torque and angle differ by a factor up to", set.Factor, unit.Scalar)
	if set.Apart {
		o.notes = append(o.notes, fmt.Sprintf("torque and angle differ by up to a factor of %.1f: strip a thread by torque as well "+
			"(--strip-torque) before you trust either", set.Factor))
	}
	return nil
}

var ceilingCalc = calculation{
	name: "ceiling", short: "Deepest cut that the screws hold: against slip and turning, and against leaving the seat",
	long: "Gives the deepest cut that holds at the low and the high end of what is known of the materials,\nwith all screws and with one " +
		"lost. Slip and turning are taken together: the cut acts at the worst\ncorner, in its worst direction. With --ap the planned depth is " +
		"judged: exit code 1 unless it holds.",
	flags: append(append([]calcFlag{}, jointFlags...),
		calcFlag{name: "at", usage: "places of the screws, as 6,6/90,6/90,58/6,58", word: true, need: true},
		calcFlag{name: "size", usage: "part, length by width, as 96x64", word: true, need: true},
		calcFlag{name: "height", usage: "height of the cut over the seat", kind: unit.KLength, need: true},
		calcFlag{name: "dia", usage: "cutter's diameter", kind: unit.KLength, need: true},
		calcFlag{name: "teeth", def: "2", usage: "its teeth", kind: unit.Count},
		calcFlag{name: "ae", usage: "width of the cut", kind: unit.KLength, need: true},
		calcFlag{name: "fz", usage: "feed per tooth", kind: unit.KLength, need: true},
		calcFlag{name: "ap", usage: "planned depth of the cut", kind: unit.KLength},
		calcFlag{name: "mu", usage: "friction under the part, instead of 0.10 to 0.20", kind: unit.Scalar},
		calcFlag{name: "kc", usage: "specific cutting force at 1 mm chip, instead of the table", kind: unit.KStress},
		calcFlag{name: "mc", usage: "its exponent", kind: unit.Scalar, zero: true},
		calcFlag{name: "no-inside-corners", def: "false", usage: "no full-width engagement anywhere", word: true},
		calcFlag{name: "down-cut", def: "false", usage: "left-hand helix: the lift presses the part down", word: true}),
	run: runCeiling,
}

func runCeiling(in calcIn) (o calcOut, err error) {
	c, part, _, err := in.joint(&o)
	if err != nil {
		return o, err
	}
	mc := part.Mc
	if v := in.num["kc"]; v > 0 {
		c.Kc11 = hold.Exactly(v, "given on the command line")
	}
	if in.given["mc"] {
		mc = in.num["mc"]
	}
	if v := in.num["mu"]; v > 0 {
		c.Mu = hold.Exactly(v, "given on the command line")
	}
	if err = c.Kc11.Valid("specific cutting force of " + part.Name); err != nil {
		return o, err
	}
	planned := in.len("ap")
	size, err := in.pairs("size", "x", 1)
	if err != nil {
		return o, err
	}
	screws, err := in.pairs("at", ",", 0)
	if err != nil {
		return o, err
	}
	l, w := size[0][0], size[0][1]
	box := [][2]float64{{0, 0}, {l, 0}, {l, w}, {0, w}}
	c.Holding = hold.Holding{Screws: screws, Forces: box, Cut: in.cut(mc), Factors: hold.Usual}
	c.Seat = hold.Seat{Corners: box, Height: in.len("height")}
	e, err := c.Together()
	if err != nil {
		return o, err
	}
	o.ceiling(e)
	if planned > 0 {
		o.planned(planned, e, c.Holding)
	}
	if e.Low.Ceiling.Upper {
		o.notes = append(o.notes, "beyond one tooth along the helix the real ceiling is higher")
	}
	o.notes = append(o.notes, source("specific cutting force of "+part.Name, c.Kc11, unit.KStress, in.sys),
		source("friction under the part", c.Mu, unit.Scalar, in.sys), estimateWords)
	return o, nil
}

// cut is the cut of the flags; the depth does not matter where none is planned.
func (in calcIn) cut(mc float64) hold.Cut {
	cut := hold.Cut{Dia: in.len("dia"), Teeth: int(in.num["teeth"]), Ae: in.len("ae"), Ap: cmp.Or(in.len("ap"), 0.1), Fz: in.len("fz"),
		Helix: unit.Angle(math.Pi / 6), Down: in.yes["down-cut"], Mc: mc, Wear: hold.WornEdge, Corner: hold.InCorner}
	if in.yes["no-inside-corners"] {
		cut.Corner = 1
	}
	return cut
}

// ceiling puts how deep a cut holds, and by what.
func (o *calcOut) ceiling(e hold.Ends) {
	lo := e.Low
	o.put("deepest", "deepest cut that holds", float64(e.Deepest()), unit.KLength)
	o.put("deepest_high", "at the favourable end", float64(min(e.High.Ceiling.Least, e.High.Retention.Ceiling)), unit.KLength)
	o.put("best", "were the best case proven by test", float64(min(e.Best.Ceiling.Least, e.Best.Retention.Ceiling)), unit.KLength)
	o.put("retention", "against leaving the seat", float64(lo.Retention.Ceiling), unit.KLength)
	o.put("slide", "against slip and turning, all screws", float64(lo.Ceiling.All), unit.KLength)
	o.put("slide_lost", "against slip and turning, one lost", float64(lo.Ceiling.AllLost), unit.KLength)
	o.say("governs", "what governs", lo.Ceiling.Governs)
	o.put("preload", "preload of a screw", float64(lo.Preload.F), unit.KForce)
	o.put("torque", "its torque", float64(lo.Preload.Torque), unit.KTorque)
}

// planned judges the depth that is planned.
func (o *calcOut) planned(depth unit.Length, e hold.Ends, h hold.Holding) {
	o.put("planned", "planned", float64(depth), unit.KLength)
	words := map[hold.Verdict]string{hold.Holds: "PASS", hold.NotProven: "NOT PROVEN", hold.Fails: "FAIL"}
	o.say("register", "may it slip or turn", words[e.Register])
	o.say("retained", "may it leave its seat", words[e.Retention])
	o.says = words[min(e.Register, e.Retention)]
	o.no = e.Register != hold.Holds || e.Retention != hold.Holds
	for i, a := range e.Advise(h) {
		o.notes = append(o.notes, fmt.Sprintf("advice %d: %s", i+1, a))
	}
}

// pairs reads pairs of lengths: "96x64", or several apart by a slash, "6,6/90,6".
func (in calcIn) pairs(flag, sep string, want int) ([][2]float64, error) {
	var out [][2]float64
	bad := func(what string) error {
		return &usageError{"--" + flag + " " + quoted(in.text[flag]) + ": " + what, "write it as in --help"}
	}
	for _, item := range strings.Split(in.text[flag], "/") {
		halves := strings.Split(item, sep)
		if len(halves) != 2 {
			return nil, bad("a pair is two lengths")
		}
		var p [2]float64
		for i, h := range halves {
			n, err := unit.Parse(strings.TrimSpace(h), unit.KLength, in.sys)
			if err != nil {
				return nil, bad(err.Error())
			}
			p[i] = n.Value
		}
		out = append(out, p)
	}
	if want > 0 && len(out) != want || want > 0 && !(out[0][0] > 0 && out[0][1] > 0) {
		return nil, bad("one pair above 0 is wanted")
	}
	return out, nil
}
