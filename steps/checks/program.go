package checks

import (
	"fmt"
	"slices"
	"strings"

	"fliptrue/jobs"
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

// programAsks ask of each program its offset word and whether it is as it was posted; from the fourth walk on once of all that are asked:
// who reads the headings reads them in one go, and one of them that is wrong is the answer.
func programAsks(r *Reads, v fold.View) (asks []fold.Ask) {
	p := r.p
	var all []jobs.Program
	for _, g := range p.Setup.Programs {
		if !v.Standing(fold.FactID("program/" + g.Role)) {
			all = append(all, g)
		}
	}
	for i, g := range all {
		asks = append(asks, r.ask(v, g))
		switch {
		case !p.Short():
			asks = append(asks, r.headAsks(v, g)...)
		case i == len(all)-1:
			asks = append(asks, r.headAsks(v, all...)...)
		}
	}
	for i := range asks {
		if asks[i].Self == nil {
			asks[i].Form = "programs"
		}
	}
	return asks
}

// headAsks are what the control's screen shows of programs, in fields of the first.
func (r *Reads) headAsks(v fold.View, of ...jobs.Program) []fold.Ask {
	p, g := r.p, of[0]
	var files, sized []string
	for _, g := range of {
		size := "" // asked of each: what was edited there stays so while its file is away
		if f, why := r.file(v, g); why == "" {
			size = fmt.Sprintf(" (%d bytes when posted)", len(f.Data))
			if p.Short() {
				size = fmt.Sprintf(" (%d bytes)", len(f.Data))
			}
		}
		files, sized = append(files, g.File), append(sized, g.File+size)
	}
	it, is, calls := "it", " is", "it calls"
	if len(files) > 1 {
		it, is, calls = "them", " are", "they call"
	}
	about, offset := "program/"+g.Role, p.Setup.Offset
	word := fold.Ask{Field: g.Role + ".word", Label: "work offset word in " + strings.Join(files, " and "), Kind: fold.Text,
		What: fold.What{By: "eye", Of: about, Dir: "offset-word"}, Want: offset,
		WantWhy: "The program works from another offset than the one that was measured.", Hint: "Post " + it + " again for " + offset + "."}
	post := fold.Act{Do: "post", Of: about, Words: "Post " + strings.Join(files, " and ") + " for " + offset + " and load " + it +
		"; or read the offset that " + calls + "."}
	if p.Short() && !p.Reads(fold.FirstUse) { // one look, one answer
		word.Field, word.Label = g.Role+".loaded", "work offset word in "+strings.Join(sized, " and ")+", or EDITED"
		word.What.Axis = "same"
		word.WantWhy = "It works from another offset than the one that was measured, or is not what was posted."
		word.Hint = "Load what was posted, for " + offset + "."
		return []fold.Ask{kit.Mend(word, "", post)}
	}
	same := fold.Ask{Field: g.Role + ".same", Since: kit.SinceEdited, Label: "at the control " + strings.Join(sized, " and ") + is,
		Kind: fold.Choice, Options: []string{asPosted, "edited there"}, What: fold.What{By: "eye", Of: about, Dir: "same"}, Want: asPosted,
		WantWhy: "What was posted is not what would cut.", Hint: editedWords}
	return []fold.Ask{kit.Mend(word, "", post), kit.Mend(same, "program-edited", fold.Act{Do: "post", Of: about, Words: editedWords})}
}

// headed says that the offset word of a program was looked at: its own, or with that of the first asked for.
func (r *Reads) headed(v fold.View, g jobs.Program) bool {
	return v.Has(g.Role+".word") || r.p.Short() && v.Has(desk.ReadField(g.Role)) &&
		slices.ContainsFunc(r.p.Setup.Programs, func(o jobs.Program) bool { return v.Has(o.Role+".word") || v.Has(o.Role+".loaded") })
}

func judgePrograms(r *Reads, v fold.View) fold.Outcome {
	var o fold.Outcome
	read := 0
	for _, g := range r.p.Setup.Programs {
		if !r.headed(v, g) {
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
		o.Learned = fmt.Sprintf("Followed line by line: %s. They fit offset, tools, part and travel. What stands on the table is held against "+
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
