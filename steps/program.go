package steps

import (
	"fmt"
	"strings"
)

func init() {
	add(Step{ID: "program", Kinds: []string{secondSide}, Follows: "offset", Build: program})
}

// programFacts are one a program of the setup.
func (p *Plan) programFacts() []FactID {
	var out []FactID
	for _, g := range p.Setup.Programs {
		out = append(out, FactID("program/"+g.Role))
	}
	return out
}

// cutterLengths are the lengths of the tools that cut: all but the probe's.
func (p *Plan) cutterLengths() []FactID {
	var out []FactID
	for _, f := range p.lengthFacts() {
		if f.Thing() != "probe" {
			out = append(out, f)
		}
	}
	return out
}

// program holds each NC program's heading against the measured offset.
func program(p *Plan) *Spec {
	if len(p.Setup.Programs) == 0 {
		return nil
	}
	return &Spec{
		Title: "programs", Live: append([]FactID{"offset"}, p.cutterLengths()...), AsRead: []FactID{"echo"}, Makes: p.programFacts(),
		Keys: []string{"tools", "setups." + p.Setup.Name + ".programs", "setups." + p.Setup.Name + ".z0"},
		Owns: func(f FactID, field string) bool { return strings.HasPrefix(field, f.Thing()+".") },
		Asks: func(v View) []Ask {
			var asks []Ask
			for _, g := range p.Setup.Programs {
				if v.Standing(FactID("program/" + g.Role)) {
					continue
				}
				asks = append(asks, Ask{Field: g.Role + ".word", Label: fmt.Sprintf("work offset word in %s", g.File), Kind: Text,
					What: What{By: "eye", Of: "program/" + g.Role, Dir: "offset-word"}, Want: p.Setup.Offset,
					WantWhy: "The program works from another offset than the one that was measured.", Hint: "Post it again for " + p.Setup.Offset + "."})
			}
			return asks
		},
		Judge: func(v View) Outcome {
			var o Outcome
			for _, g := range p.Setup.Programs {
				if v.Has(g.Role + ".word") {
					o.Facts = append(o.Facts, Fact{ID: FactID("program/" + g.Role)})
				}
			}
			o.Learned = "The programs call the offset that was measured."
			o.Notes = append(o.Notes, "Motion and clearance of the programs are not computed here.")
			return o
		},
		Page: func(v View) Page {
			return Page{Why: "A program posted for another offset or another Z0 cuts in the wrong place, at once.",
				Act: "Open each program and read its heading.", Read: "The word as it stands in the file.",
				Caution: "", Scene: p.scene(v, nil)}
		},
	}
}
