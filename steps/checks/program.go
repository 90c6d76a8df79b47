package checks

import (
	"fmt"
	"strings"

	"fliptrue/steps/desk"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// ProgramFacts are one a program of the setup.
func ProgramFacts(p *fold.Plan) []fold.FactID {
	var out []fold.FactID
	for _, g := range p.Setup.Programs {
		out = append(out, fold.FactID("program/"+g.Role))
	}
	return out
}

// CutterLengths are the lengths of the tools that cut: all but the probe's.
func CutterLengths(p *fold.Plan) []fold.FactID {
	var out []fold.FactID
	for _, f := range kit.LengthFacts(p) {
		if f.Thing() != "probe" {
			out = append(out, f)
		}
	}
	return out
}

// ProgramCards are what a record carries of the setup's programs as they lie on the disk:
// their checksums, so that one posted again is seen.
func ProgramCards(p *fold.Plan) map[string]string {
	out := map[string]string{}
	for _, g := range p.Setup.Programs {
		if f, ok := p.Program(g.Role); ok {
			out[fold.ProgramCard(p.Setup.Name, g.Role)] = f.Hash
		}
	}
	return out
}

// checked is the program of a role if it can be followed: it lies on the disk, and is the
// one that the record speaks of. Otherwise why says what is the matter.
func checked(p *fold.Plan, role, file string) (f fold.ProgramFile, why string) {
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

// Program holds each NC program against the measured offset, the tools and the travel.
//
// The work offset word is asked as the control shows it: the file that was checked may not be
// the one that was loaded. All else is read in the file itself.
func Program(p *fold.Plan) *fold.Spec {
	if len(p.Setup.Programs) == 0 {
		return nil
	}
	return &fold.Spec{
		Title: "programs", Needs: fold.Needs(fold.Live(append([]fold.FactID{"offset"}, CutterLengths(p)...)...), fold.AsRead("echo")), Makes: ProgramFacts(p),
		Keys: []string{"tools", "part.size", "setups." + p.Setup.Name + ".programs", "setups." + p.Setup.Name + ".z0"},
		Owns: func(f fold.FactID, field string) bool { return strings.HasPrefix(field, f.Thing()+".") },
		Asks: func(v fold.View) []fold.Ask {
			var asks []fold.Ask
			for _, g := range p.Setup.Programs {
				if v.Standing(fold.FactID("program/" + g.Role)) {
					continue
				}
				asks = append(asks, fold.Ask{Field: g.Role + ".word", Label: fmt.Sprintf("work offset word in %s", g.File), Kind: fold.Text,
					What: fold.What{By: "eye", Of: "program/" + g.Role, Dir: "offset-word"}, Want: p.Setup.Offset,
					WantWhy: "The program works from another offset than the one that was measured.", Hint: "Post it again for " + p.Setup.Offset + "."})
				size := "" // asked of each: what was edited there stays so while its file is away
				if f, why := checked(p, g.Role, g.File); why == "" {
					size = fmt.Sprintf(" (%d bytes when posted)", len(f.Data))
				}
				asks = append(asks, fold.Ask{Field: g.Role + ".same", Since: kit.SinceEdited, Label: fmt.Sprintf("at the control %s%s is", g.File, size), Kind: fold.Choice, Options: []string{asPosted, "edited there"},
					What: fold.What{By: "eye", Of: "program/" + g.Role, Dir: "same"}, Want: asPosted, WantWhy: "What was posted is not what would cut.", Hint: editedWords})
			}
			return asks
		},
		Judge: func(v fold.View) fold.Outcome {
			var o fold.Outcome
			read := 0
			for _, g := range p.Setup.Programs {
				if !v.Has(g.Role + ".word") {
					continue
				}
				if field := g.Role + ".same"; v.Has(field) && !fold.SameAnswer(v.Text(field), asPosted) {
					o.Named = "program-edited"
					o.Next = append(o.Next, fold.Act{Do: "post", Of: "program/" + g.Role, Words: editedWords}, fold.Act{Do: "again", Of: field})
				}
				fact := fold.Known{ID: fold.FactID("program/" + g.Role)}
				if f, why := checked(p, g.Role, g.File); why != "" {
					o.Notes = append(o.Notes, why)
				} else {
					read++
					r := reportOn(p, f, g.Role, v.Perhaps, desk.OnDesk, desk.AsFound{}, 0, desk.Headings)
					tell(&r, p, g.Role, &o)
					if r.Box != nil {
						fact.Value = r.Box[:]
					}
				}
				o.Facts = append(o.Facts, fact)
			}
			o.Learned = "The programs call the offset that was measured."
			if read > 0 && fold.Worst(o.Checks).OK() {
				o.Learned = fmt.Sprintf("Followed line by line: %s. They fit offset, tools, part and travel; what stands on the table is held against them when it stands.", fold.Plural(read, "program"))
			}
			return o
		},
		Page: func(v fold.View) fold.Page {
			pg := fold.Page{Why: "A program posted for another offset or another Z0 cuts in the wrong place, at once.",
				Act:  "Load each program at the control and read its heading there.",
				Read: "The word as the control shows it: the file checked here may not be the one that was loaded. Compare lines and bytes, too, where the control shows them."}
			var path []fold.Shape
			for _, g := range p.Setup.Programs {
				if f, why := checked(p, g.Role, g.File); why == "" {
					r := reportOn(p, f, g.Role, v.Perhaps, desk.OnDesk, desk.AsFound{}, 0, desk.Headings)
					path = append(path, r.Shapes...)
					pg.Rows = append(append(pg.Rows, fold.Row{Label: g.File + " as posted", Text: fmt.Sprintf("%d lines, %d bytes", r.Lines, r.Bytes)}), r.Rows...)
				}
			}
			pg.Scene = picture(p, v, path)
			return pg
		},
	}
}

// picture is the scene of the setup's kind with further shapes.
func picture(p *fold.Plan, v fold.View, extra []fold.Shape) fold.Scene {
	if p.Setup.Kind == kit.FirstSide {
		return kit.StockPicture(p, v, extra...)
	}
	return kit.Scene(p, v, extra)
}

// reportOn is a program of the plan held against the setup at one point of it.
func reportOn(p *fold.Plan, f fold.ProgramFile, role string, get desk.GetFact, when desk.During, found desk.AsFound, heads float64, what desk.Part) desk.ProgramReport {
	a := desk.HeldFor(p, get, when, heads, found)
	return desk.Reported(p, "program."+role, f.Name, role, a, desk.Follow(p, f, a), what)
}

// tell puts a report into an outcome.
func tell(r *desk.ProgramReport, p *fold.Plan, role string, o *fold.Outcome) {
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
			o.Next = append(o.Next, fold.Act{Do: "post", Of: "program/" + role, Words: c.Words + " Post " + r.File + " again, leave, and open the job anew: programs are read when it is opened. Nothing is lost."}, fold.Act{Do: "round"})
			return
		}
	}
}

// ProgramsPass holds the programs that run at this point against what stands there now: checks,
// the nearest approach, and for cuts the deepest step against what the screws hold.
func ProgramsPass(p *fold.Plan, v fold.View, when desk.During, o *fold.Outcome) {
	for _, r := range passing(p, v, when) {
		tell(&r, p, r.Role, o)
	}
	for _, g := range p.Setup.Programs {
		if _, why := checked(p, g.Role, g.File); why != "" && desk.Runs(p, g.Role) == when {
			o.Notes = append(o.Notes, why)
		}
	}
}

// passing are the reports of the programs that run at this point.
func passing(p *fold.Plan, v fold.View, when desk.During) []desk.ProgramReport {
	what := desk.Passing
	heads := 0.0
	var found desk.AsFound
	if when == desk.WhileCut {
		what |= desk.Stepping
		found = desk.ScrewsFound(p, v)
		if s, ok := v.Perhaps("screws"); ok && len(s.Value) > 1 {
			heads = s.Value[1]
		}
	}
	var out []desk.ProgramReport
	for _, g := range p.Setup.Programs {
		if f, why := checked(p, g.Role, g.File); why == "" && desk.Runs(p, g.Role) == when {
			out = append(out, reportOn(p, f, g.Role, v.Perhaps, when, found, heads, what))
		}
	}
	return out
}

// PassingShapes are the paths of the programs that run at this point, conflicts marked, and
// the first that speaks against running one, for a caution.
func PassingShapes(p *fold.Plan, v fold.View, when desk.During) (shapes []fold.Shape, warn string) {
	for _, r := range passing(p, v, when) {
		shapes = append(shapes, r.Shapes...)
		for _, c := range r.Checks {
			if warn == "" && c.Verdict == fold.Fail {
				warn = "DO NOT START. " + c.Words
			}
		}
	}
	return shapes, warn
}
