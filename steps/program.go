package steps

import (
	"fmt"
	"strings"
)

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

// ProgramCards are what a record carries of the setup's programs as they lie on the disk:
// their checksums, so that one posted again is seen.
func (p *Plan) ProgramCards() map[string]string {
	out := map[string]string{}
	for _, g := range p.Setup.Programs {
		if f, ok := p.Program(g.Role); ok {
			out[programCard(p.Setup.Name, g.Role)] = f.Hash
		}
	}
	return out
}

func programCard(setup, role string) string { return "program." + setup + "." + role + ".hash" }

// PostedPrograms are the checksums by role that a record carries of a setup's programs.
func PostedPrograms(cards map[string]string, setup string) map[string]string {
	out := map[string]string{}
	for k, v := range cards {
		if role, ok := strings.CutPrefix(k, "program."+setup+"."); ok {
			if role, ok = strings.CutSuffix(role, ".hash"); ok {
				out[role] = v
			}
		}
	}
	return out
}

// checked is the program of a role if it can be followed: it lies on the disk, and is the
// one that the record speaks of. Otherwise why says what is the matter.
func (p *Plan) checked(role, file string) (f ProgramFile, why string) {
	f, ok := p.Program(role)
	if !ok {
		return f, fmt.Sprintf("%s was not read: it does not lie beside the job, or is longer than is read here. Its moves, travel and clearance are not checked: fliptrue program does it.", file)
	}
	if h := p.Posted(role); h != "" && h != f.Hash {
		return f, fmt.Sprintf("%s is not the file that the record speaks of (checksum %s, now %s). Its moves, travel and clearance are not checked.", file, h, f.Hash)
	}
	return f, ""
}

// asPosted is a program that nobody touched at the control.
const asPosted = "as posted"

// editedWords say what becomes of one that was edited there.
const editedWords = "Post it again and load that. Or save it at the control, read it back into its file and open the job anew: then it is read as it is."

// program holds each NC program against the measured offset, the tools and the travel.
//
// The work offset word is asked as the control shows it: the file that was checked may not be
// the one that was loaded. All else is read in the file itself.
func program(p *Plan) *Spec {
	if len(p.Setup.Programs) == 0 {
		return nil
	}
	return &Spec{
		Title: "programs", Live: append([]FactID{"offset"}, p.cutterLengths()...), AsRead: []FactID{"echo"}, Makes: p.programFacts(),
		Keys: []string{"tools", "part.size", "setups." + p.Setup.Name + ".programs", "setups." + p.Setup.Name + ".z0"},
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
				size := "" // asked of each: what was edited there stays so while its file is away
				if f, why := p.checked(g.Role, g.File); why == "" {
					size = fmt.Sprintf(" (%d bytes when posted)", len(f.Data))
				}
				asks = append(asks, Ask{Field: g.Role + ".same", Since: sinceEdited, Label: fmt.Sprintf("at the control %s%s is", g.File, size), Kind: Choice, Options: []string{asPosted, "edited there"},
					What: What{By: "eye", Of: "program/" + g.Role, Dir: "same"}, Want: asPosted, WantWhy: "What was posted is not what would cut.", Hint: editedWords})
			}
			return asks
		},
		Judge: func(v View) Outcome {
			var o Outcome
			read := 0
			for _, g := range p.Setup.Programs {
				if !v.Has(g.Role + ".word") {
					continue
				}
				if field := g.Role + ".same"; v.Has(field) && !SameAnswer(v.Text(field), asPosted) {
					o.Named = "program-edited"
					o.Next = append(o.Next, Act{Do: "post", Of: "program/" + g.Role, Words: editedWords}, Act{Do: "again", Of: field})
				}
				fact := Fact{ID: FactID("program/" + g.Role)}
				if f, why := p.checked(g.Role, g.File); why != "" {
					o.Notes = append(o.Notes, why)
				} else {
					read++
					r := p.reportOn(f, g.Role, v.Fact, atDesk, asFound{}, 0, headings)
					r.tell(p, g.Role, &o)
					if r.Box != nil {
						fact.Value = r.Box[:]
					}
				}
				o.Facts = append(o.Facts, fact)
			}
			o.Learned = "The programs call the offset that was measured."
			if read > 0 && Worst(o.Checks).OK() {
				o.Learned = fmt.Sprintf("Followed line by line: %s. They fit offset, tools, part and travel; what stands on the table is held against them when it stands.", Plural(read, "program"))
			}
			return o
		},
		Page: func(v View) Page {
			pg := Page{Why: "A program posted for another offset or another Z0 cuts in the wrong place, at once.",
				Act:  "Load each program at the control and read its heading there.",
				Read: "The word as the control shows it: the file checked here may not be the one that was loaded. Compare lines and bytes, too, where the control shows them."}
			var path []Shape
			for _, g := range p.Setup.Programs {
				if f, why := p.checked(g.Role, g.File); why == "" {
					r := p.reportOn(f, g.Role, v.Fact, atDesk, asFound{}, 0, headings)
					path = append(path, r.Shapes...)
					pg.Rows = append(append(pg.Rows, Row{Label: g.File + " as posted", Text: fmt.Sprintf("%d lines, %d bytes", r.Lines, r.Bytes)}), r.Rows...)
				}
			}
			pg.Scene = p.picture(v, path)
			return pg
		},
	}
}

// picture is the scene of the setup's kind with further shapes.
func (p *Plan) picture(v View, extra []Shape) Scene {
	if p.Setup.Kind == firstSide {
		return p.stockPicture(v, extra...)
	}
	return p.scene(v, extra)
}

// reportOn is a program of the plan held against the setup at one point of it.
func (p *Plan) reportOn(f ProgramFile, role string, get getFact, when during, found asFound, heads float64, what part) ProgramReport {
	a := p.heldAgainst(get, when, heads)
	return p.reported("program."+role, f.Name, role, a, p.follow(f, a), what, found)
}

// tell puts a report into an outcome.
func (r *ProgramReport) tell(p *Plan, role string, o *Outcome) {
	o.Checks = append(o.Checks, r.Checks...)
	o.Lines = append(o.Lines, r.Rows...)
	o.Notes = append(o.Notes, r.Notes...)
	if o.Named == "" {
		o.Named = r.Named
	}
	if len(o.Next) > 0 {
		return
	}
	for _, c := range r.Checks {
		if !c.Verdict.OK() {
			o.Next = append(o.Next, Act{Do: "post", Of: "program/" + role, Words: c.Words + " Post " + r.File + " again, leave, and open the job anew: programs are read when it is opened. Nothing is lost."}, Act{Do: "round"})
			return
		}
	}
}

// programsPass holds the programs that run at this point against what stands there now: checks,
// the nearest approach, and for cuts the deepest step against what the screws hold.
func (p *Plan) programsPass(v View, when during, o *Outcome) {
	for _, r := range p.passing(v, when) {
		r.tell(p, r.Role, o)
	}
	for _, g := range p.Setup.Programs {
		if _, why := p.checked(g.Role, g.File); why != "" && p.runs(g.Role) == when {
			o.Notes = append(o.Notes, why)
		}
	}
}

// passing are the reports of the programs that run at this point.
func (p *Plan) passing(v View, when during) []ProgramReport {
	what := passing
	heads := 0.0
	var found asFound
	if when == whileCut {
		what |= stepping
		found = p.screwsFound(v)
		if s, ok := v.Fact("screws"); ok && len(s.Value) > 1 {
			heads = s.Value[1]
		}
	}
	var out []ProgramReport
	for _, g := range p.Setup.Programs {
		if f, why := p.checked(g.Role, g.File); why == "" && p.runs(g.Role) == when {
			out = append(out, p.reportOn(f, g.Role, v.Fact, when, found, heads, what))
		}
	}
	return out
}

// passingShapes are the paths of the programs that run at this point, conflicts marked, and
// the first that speaks against running one, for a caution.
func (p *Plan) passingShapes(v View, when during) (shapes []Shape, warn string) {
	for _, r := range p.passing(v, when) {
		shapes = append(shapes, r.Shapes...)
		for _, c := range r.Checks {
			if warn == "" && c.Verdict == Fail {
				warn = "DO NOT START. " + c.Words
			}
		}
	}
	return shapes, warn
}
