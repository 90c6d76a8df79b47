package inspect

import (
	"fmt"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/growth"
	calc "fliptrue/calc/inspect"
	"fliptrue/calc/unit"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// zeroU is the doubt of the instrument's zero, that no mean takes out; earlier walks did not count it.
func zeroU(v fold.View) float64 {
	if !v.Walks(4) {
		return 0
	}
	return growth.ZeroU
}

// zeroCounts says so, and where it comes from.
func zeroCounts(p *fold.Plan, v fold.View, of string) []string {
	if zeroU(v) == 0 {
		return nil
	}
	return []string{fmt.Sprintf("The %s's zero counts with ±%s, as one for all. That is half of what DIN 863-1 allows, from memory.", of,
		p.Len(growth.ZeroU*math.Sqrt(3)))}
}

// within holds one thickness, known to u, against what the job says of it.
func within(p *fold.Plan, id, field, words string, of [2]float64, got, u float64, o *fold.Outcome) {
	l := judge.At(p.Limit(id), of[1])
	l.ID += "." + field
	c := judge.Off(l, got, of[0], budget.OneSided*u)
	c.On = field
	if c.Verdict != fold.Pass {
		way := "too thin"
		if got > of[0] {
			way = "too thick"
		}
		c.Words = fmt.Sprintf("%s is %s %s.", fold.Capital(words), p.Len(math.Abs(got-of[0])), way)
		if len(o.Next) == 0 {
			o.Named = strings.TrimPrefix(id, "inspect.") + "-off"
			o.Next = []fold.Act{{Do: "measure", Of: "part", Words: c.Words + " Measure it once more; if it stays, decide."},
				{Do: "again", Of: field}}
		}
	}
	o.Checks = append(o.Checks, c)
}

// walls measures the four side walls: another look at the place, by the other side of each wall.
func walls(p *fold.Plan) *fold.Spec {
	of := p.Setup.Inspect.Wall
	if of[0] == 0 {
		return nil
	}
	return &fold.Spec{
		Title: "walls", Needs: fold.Needs(facts.Benched.Live(), facts.Mismatch.Live()), Makes: []fold.FactID{facts.Walls.ID},
		Keys: []string{"setups." + p.Setup.Name + ".inspect"},
		Asks: func(fold.View) (asks []fold.Ask) {
			m := middle(p)
			for _, f := range faces {
				half := m.X
				if f.alongY() {
					half = m.Y
				}
				asks = append(asks, fold.Ask{Field: f.field, Label: f.name + " wall, in its middle", Kind: fold.Reading, Unit: unit.KLength,
					What: fold.What{By: "micrometer", Of: f.of + "@" + kit.Place(half), Dir: "wall"}, Window: kit.Around(of[0], math.Max(0.3, 4*of[1]),
						"the job")})
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome { return judgeWalls(p, v) },
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "The walls say the same as the steps, unless the inside is off.", Act: "Measure the four walls in their middles.",
				Read:    "Set its zero first. Ball anvil inside, light ratchet.",
				Caution: "A point anvil dents wood; a screwed-up micrometer cracks a thin wall.",
				Scene:   drawn(p, nil)}
		},
	}
}

func judgeWalls(p *fold.Plan, v fold.View) fold.Outcome {
	var o fold.Outcome
	f, ok := facts.Mismatch.In(v)
	if !ok {
		return o
	}
	of, zero := p.Setup.Inspect.Wall, zeroU(v)
	for _, w := range faces {
		within(p, "inspect.wall", w.field, "the "+w.name+" wall", of, v.Len(w.field), math.Hypot(growth.MicrometerU, zero), &o)
	}
	w := calc.Walls{XPlus: v.Len("right"), XMinus: v.Len("left"), YPlus: v.Len("away"), YMinus: v.Len("toward"), Nominal: of[0],
		U: growth.MicrometerU, UZero: zero, InsideBySide2: p.Setup.Inspect.Cavity == "side 2"}
	off, err := w.Offset()
	if err != nil {
		kit.Refuse(&o, "inspect.walls", reckoned, err)
		return o
	}
	agree := judge.So(fold.Limit{ID: "inspect.cavity", Why: "walls and steps say the same", Class: fold.Soft}, off.Agrees(mismatch(f)),
		fmt.Sprintf("Walls and steps differ by %s and %s: their inside is off, or the part lies wrong.",
			kit.Signed(p, off.D.X-float64(f.DX)), kit.Signed(p, off.D.Y-float64(f.DY))))
	o.Notes = append(o.Notes, zeroCounts(p, v, "micrometer")...)
	if o.Checks = append(o.Checks, agree); agree.Verdict == fold.Pass {
		o.Notes = append(o.Notes, "Walls and steps agree.")
	} else if len(o.Next) == 0 {
		o.Named = "cavity-off"
		o.Next = []fold.Act{{Do: "look", Of: "part", Words: "Look at its arrow, wipe under it. Measure the walls, then the steps once more. " +
			"If it stays, accept it: the fixture is judged by the steps."}, {Do: "round"}}
	}
	u2 := off.U * off.U
	o.Facts = []fold.Known{facts.Walls.Is(facts.WallsFact{DX: unit.Length(off.D.X), DY: unit.Length(off.D.Y),
		Thicker: unit.Length(off.Thicker),
		Cov:     fold.NewCov("dx,dy,thicker", [][]float64{{u2, 0, 0}, {0, u2, 0}, {0, 0, off.UThick * off.UThick}})})}
	g := budget.OneSided * off.U
	o.Lines = []fold.Row{{Label: "by the walls along X", Value: off.D.X, Guard: g, Unit: unit.KLength, Signed: true, Big: true},
		{Label: "by the walls along Y", Value: off.D.Y, Guard: g, Unit: unit.KLength, Signed: true, Big: true},
		{Label: "walls thicker than drawn", Value: off.Thicker, Guard: budget.OneSided * off.UThick, Unit: unit.KLength, Signed: true}}
	o.Learned = fmt.Sprintf("By its walls side 2 lies %s along X and %s along Y.", kit.Signed(p, off.D.X), kit.Signed(p, off.D.Y))
	return o
}

// floorPlaces are the corners, counter-clockwise from the near left one, and the middle.
func floorPlaces(p *fold.Plan) []fit.Point3 {
	w, h, in := p.Job.Part.Size[0], p.Job.Part.Size[1], p.Setup.Inspect.Inset
	all := []fit.Point3{{X: in, Y: in}, {X: w - in, Y: in}, {X: w - in, Y: h - in}, {X: in, Y: h - in}, {X: w / 2, Y: h / 2}}
	if p.Setup.Inspect.Short {
		return all[4:]
	}
	return all
}

// floorLeft measures the floor that is left.
func floorLeft(p *fold.Plan) *fold.Spec {
	of := p.Setup.Inspect.Floor
	if of[0] == 0 {
		return nil
	}
	at := floorPlaces(p)
	names := kit.FloorName[len(kit.FloorName)-len(at):]
	field := func(i int) string { return fmt.Sprintf("f%d", i+1) }
	return &fold.Spec{
		Title: "floor thickness", Needs: facts.Benched.Live(), Makes: []fold.FactID{facts.FloorLeft.ID},
		Keys: []string{"setups." + p.Setup.Name + ".inspect"},
		Asks: func(fold.View) (asks []fold.Ask) {
			for i, q := range at {
				asks = append(asks, fold.Ask{Field: field(i), Label: "floor, " + names[i], Kind: fold.Reading, Unit: unit.KLength,
					What:   fold.What{By: "gauge", Of: "part-top@" + kit.Place(q.X) + "," + kit.Place(q.Y), Dir: "floor"},
					Window: kit.Around(of[0], math.Max(0.3, 4*of[1]), "the job")})
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			ps := append([]fit.Point3{}, at...)
			for i := range ps {
				ps[i].Z = v.Len(field(i))
				within(p, "inspect.floor", field(i), "the floor, "+names[i]+",", of, ps[i].Z, math.Hypot(growth.MicrometerU, zeroU(v)), &o)
			}
			f, err := thickness(p, ps, zeroU(v))
			if err != nil {
				kit.Refuse(&o, "inspect.plane", reckoned, err)
				return o
			}
			o.Facts = []fold.Known{facts.FloorLeft.Is(f)}
			g := func(l string) float64 { return budget.OneSided * math.Sqrt(f.Cov.Var(l)) }
			o.Lines = []fold.Row{{Label: "floor too thick", Value: float64(f.Thick), Guard: g("thick"), Unit: unit.KLength, Signed: true, Big: true}}
			if len(ps) > 2 {
				o.Lines = append(o.Lines, fold.Row{Label: "thicker to the RIGHT", Value: float64(f.LeanX), Guard: g("leanx"),
					Unit: unit.KSlope, Signed: true},
					fold.Row{Label: "thicker AWAY", Value: float64(f.LeanY), Guard: g("leany"), Unit: unit.KSlope, Signed: true})
			}
			o.Notes = append(o.Notes, zeroCounts(p, v, "gauge")...)
			if t := float64(f.Thick); math.Abs(t) > g("thick") {
				way := "DOWN"
				if t < 0 {
					way = "UP"
				}
				o.Notes = append(o.Notes, fmt.Sprintf("The next part: Z %s by %s. No card keeps that; mend it in the program.", way,
					p.Len(math.Abs(t))))
			}
			o.Learned = fmt.Sprintf("The floor is %s off its thickness in the middle.", kit.Signed(p, float64(f.Thick)))
			return o
		},
		Page: func(v fold.View) fold.Page {
			return fold.Page{Why: "The floor is what a wrong height ruins first.", Act: "Measure the floor: " + strings.Join(names, ", ") + ".",
				Read:    "Set its zero first. Over a ball, or a depth gauge from the rim to the face.",
				Caution: "Support the floor from below; a gauge pressed on it bows it.", Scene: drawn(p, nil)}
		},
	}
}

// thickness is the plane through them; of one place its thickness alone.
func thickness(p *fold.Plan, ps []fit.Point3, zero float64) (facts.FloorLeftFact, error) {
	f := facts.FloorLeftFact{}
	nominal, u2 := p.Setup.Inspect.Floor[0], growth.MicrometerU*growth.MicrometerU+zero*zero
	if len(ps) == 1 {
		f.Thick, f.Cov = unit.Length(ps[0].Z-nominal), fold.NewCov("thick,leanx,leany", [][]float64{{u2, 0, 0}, {0, 0, 0}, {0, 0, 0}})
		return f, nil
	}
	c, err := calc.ToFloor(ps, nominal, middle(p), growth.MicrometerU, zero)
	if err != nil {
		return f, err
	}
	f.Thick, f.LeanX, f.LeanY = unit.Length(c.Thick), unit.Angle(c.LeanX), unit.Angle(c.LeanY)
	f.Cov = fold.NewCov("thick,leanx,leany", [][]float64{{c.U[0] * c.U[0], 0, 0}, {0, c.U[1] * c.U[1], 0}, {0, 0, c.U[2] * c.U[2]}})
	return f, nil
}
