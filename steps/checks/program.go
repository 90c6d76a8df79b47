package checks

import (
	"fmt"
	"strings"

	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
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

// asPosted is a program that nobody touched at the control.
const asPosted = "as posted"

// editedWords say what becomes of one that was edited there.
const editedWords = "Post it again and load that. Or save it at the control, read it back into its file and open the job anew: then " +
	"it is " +
	"read as it is."

// Program holds each NC program against the measured offset, the tools and the travel.
//
// The work offset word is asked as the control shows it: the file that was checked may not be
// the one that was loaded. All else is read in the file itself.
func Program(p *fold.Plan) *fold.Spec {
	if len(p.Setup.Programs) == 0 {
		return nil
	}
	r := ReadsAt(p, desk.OnDesk)
	return &fold.Spec{
		Title: "programs", Needs: fold.Needs(fold.Live(append([]fold.FactID{"offset"}, CutterLengths(p)...)...), fold.AsRead("echo")),
		Makes:  ProgramFacts(p),
		Former: []string{"tools", "part.size", "setups." + p.Setup.Name + ".programs", "setups." + p.Setup.Name + ".z0"},
		Owns:   func(f fold.FactID, field string) bool { return strings.HasPrefix(field, f.Thing()+".") },
		Asks:   func(v fold.View) []fold.Ask { return programAsks(r, v) },
		Judge:  func(v fold.View) fold.Outcome { return judgePrograms(r, v) },
		Page:   func(v fold.View) fold.Page { return programPage(r, v) },
	}
}

func programAsks(r *Reads, v fold.View) (asks []fold.Ask) {
	p := r.p
	for _, g := range p.Setup.Programs {
		if v.Standing(fold.FactID("program/" + g.Role)) {
			continue
		}
		of := "program/" + g.Role
		asks = append(asks, r.ask(v, g))
		word := fold.Ask{Field: g.Role + ".word", Label: fmt.Sprintf("work offset word in %s", g.File), Kind: fold.Text,
			What: fold.What{By: "eye", Of: of, Dir: "offset-word"}, Want: p.Setup.Offset,
			WantWhy: "The program works from another offset than the one that was measured.", Hint: "Post it again for " + p.Setup.Offset + "."}
		asks = append(
			asks, kit.Mend(word, "", fold.Act{Do: "post", Of: of, Words: "Post " + g.File + " for " + p.Setup.Offset +
				" and load it; or read the offset that it calls."}))
		size := "" // asked of each: what was edited there stays so while its file is away
		if f, why := r.file(v, g); why == "" {
			size = fmt.Sprintf(" (%d bytes when posted)", len(f.Data))
		}
		same := fold.Ask{Field: g.Role + ".same", Since: kit.SinceEdited, Label: fmt.Sprintf("at the control %s%s is", g.File, size),
			Kind:    fold.Choice,
			Options: []string{asPosted, "edited there"}, What: fold.What{By: "eye", Of: of, Dir: "same"}, Want: asPosted,
			WantWhy: "What was posted is not what would cut.", Hint: editedWords}
		asks = append(asks, kit.Mend(same, "program-edited", fold.Act{Do: "post", Of: of, Words: editedWords}))
	}
	for i := range asks {
		if asks[i].Self == nil {
			asks[i].Form = "programs"
		}
	}
	return asks
}

func judgePrograms(r *Reads, v fold.View) fold.Outcome {
	var o fold.Outcome
	read := 0
	for _, g := range r.p.Setup.Programs {
		if !v.Has(g.Role + ".word") {
			continue
		}
		if field := g.Role + ".same"; v.Has(field) && !fold.SameAnswer(v.Text(field), asPosted) {
			o.Named = "program-edited"
			o.Next = append(o.Next, fold.Act{Do: "post", Of: "program/" + g.Role, Words: editedWords}, fold.Act{Do: "again", Of: field})
		}
		fact := facts.ProgramFact{}
		if x := r.tell(v, g, &o); x.Unread == "" {
			read++
			if x.Box != nil {
				fact.Box = x.Box[:]
			}
			if v.Walks(3) {
				fact = fact.WithSum(x.Sum)
			}
		}
		o.Facts = append(o.Facts, facts.Program.Of(g.Role).Is(fact))
	}
	if len(GivenLengths(r.p)) > 0 {
		o.Notes = append(o.Notes, "Cutter lengths are not typed at this level. Travel in Z is held for any length that can be, else not at all.")
	}
	o.Learned = "The programs call the offset that was measured."
	if read > 0 && fold.Worst(o.Checks).OK() {
		o.Learned = fmt.Sprintf("Followed line by line: %s. They fit offset, tools, part and travel; what stands on the table is held against "+
			"them when it stands.", fold.Plural(read, "program"))
	}
	return o
}

func programPage(r *Reads, v fold.View) fold.Page {
	p := r.p
	pg := fold.Page{Why: "A program posted for another offset or another Z0 cuts in the wrong place, at once.",
		Act: "Load each program at the control and read its heading there.",
		Read: "The word as the control shows it: the file checked here may not be the one that was loaded. Compare lines and bytes, too, where " +
			"the control shows them."}
	var path []fold.Shape
	for _, g := range p.Setup.Programs {
		if f, why := r.file(v, g); why == "" {
			rep := r.report(v, f, g.Role)
			path = append(path, rep.Shapes...)
			pg.Rows = append(append(pg.Rows, fold.Row{Label: g.File + " as posted", Text: fmt.Sprintf("%d lines, %d bytes", rep.Lines, rep.Bytes)}),
				rep.Rows...)
		}
	}
	pg.Scene = picture(p, v, path)
	return pg
}

// picture is the scene of the setup's kind with further shapes.
func picture(p *fold.Plan, v fold.View, extra []fold.Shape) fold.Scene {
	if p.Raw() {
		return kit.StockPicture(p, v, extra...)
	}
	return kit.Scene(p, v, extra)
}
