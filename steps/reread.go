package steps

// reread reads the control's offset page once more, blind. It makes only the echo.
func reread(p *Plan) *Spec {
	return &Spec{
		Title: "offset page again", At: "program", Live: []FactID{"offset"}, Makes: []FactID{"echo"},
		Asks: func(v View) []Ask {
			if f, ok := v.Fact("offset"); ok {
				asks := p.echoAsks(f)
				for i := range asks {
					asks[i].Do = nil
				}
				asks[0].Do = []Act{{Do: "look", Of: "offset", Words: "Open the offset page of the control and read " + p.Setup.Offset + " from there."}}
				return asks
			}
			return nil
		},
		Judge: func(v View) Outcome {
			var o Outcome
			if f, ok := v.Fact("offset"); ok {
				p.echoChecks(v, f, &o)
				o.Facts = []Fact{{ID: "echo"}}
				o.Learned = "The control still holds the offset."
			}
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "What the control believes is what it will do.",
				Act:   "Read the offset from the control's own page.",
				Read:  p.pageRead(),
				After: p.jogOver(v.Standing, "part zero"), Scene: p.scene(v, nil)}
		},
	}
}
