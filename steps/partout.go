package steps

func init() {
	add(Step{ID: partOutStep, Kinds: []string{secondSide}, Off: true, Build: partOut})
}

const partOutStep StepID = "part-out"

// partOut takes the part out of its pocket before anything that needs the pocket bare. What
// was known of the part on the fixture is gone with it, and comes back by seating it again.
func partOut(p *Plan) *Spec {
	left := counted("left", "clamps left on the table", "clamps", "table", "0", "A strap on the part holds it; one left lying is in the way.", "Take it off, heel block and bolt too.")
	held := "Straps off, counted, and any screws."
	if p.Setup.HoldDown == "S" {
		left = counted("left", "screws left in the part", "screws", "in", "0", "A screw left in holds the part.", "Take it out.")
		held = "Screws out, counted."
	}
	left.Do = []Act{{Do: "remove", Of: "part", Words: "Spindle stopped, door open. " + held + " Lift the part out by hand; never lever on a thin wall."}}
	return &Spec{
		Title: "part out", Raises: []MishapID{"part-out"},
		Asks: func(v View) []Ask {
			return []Ask{left, {Field: "pocket", Label: "the pocket is", Kind: Choice, Options: []string{"bare", "not bare"}, What: What{By: "eye", Of: "pocket", Dir: "bare"}, Want: "bare",
				WantWhy: "Its floor is touched next, or the fixture is tapped.", Hint: "Take out what lies in it."}}
		},
		Judge: func(v View) Outcome {
			o := Outcome{Learned: "The pocket is bare. The part is seated again when the fixture is proven: nothing read of it before counts."}
			if v.Text("left") != "0" || !sameAnswer(v.Text("pocket"), "bare") {
				o.Next = []Act{left.Do[0], {Do: "again", Of: "left"}, {Do: "again", Of: "pocket"}}
			}
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "The floor can't be touched through the part, and a tap with the part in shakes it off its seat.",
				Act:     "Take the part out of its pocket.",
				Read:    "What is seen, counted.",
				Caution: "SPINDLE STOPPED, its command off. The last strap lets the part go: a hand on it.", Scene: p.scene(v, nil)}
		},
	}
}

// boreCovered says that the part, or a strap as drawn, lies over a bore or pin that is read: it
// is then out of reach while the part is in.
func (p *Plan) boreCovered() Bare {
	first, second := p.targets()
	if second != nil && p.readsSecond() && p.covered(*second) == PartMustBeOut {
		return PartMustBeOut
	}
	return p.covered(first)
}

func (p *Plan) covered(t target) Bare {
	z, _ := p.partZero()
	w, h, r := p.Job.Part.Size[0], p.Job.Part.Size[1], t.dia/2
	x, y := t.from.X-z.X, t.from.Y-z.Y // in the part's coordinates
	if x+r > 0 && x-r < w && y+r > 0 && y-r < h {
		return PartMustBeOut
	}
	for _, c := range p.Setup.Clamps {
		lo, hi := outlineBox(c.Outline)
		if x+r > lo.X && x-r < hi.X && y+r > lo.Y && y-r < hi.Y {
			return PartMustBeOut
		}
	}
	return PartMayStay
}
