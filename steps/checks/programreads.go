package checks

import (
	"fmt"
	"sync"

	"fliptrue/jobs"
	"fliptrue/steps/desk"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// Reads are the programs of a setup as they are read at one point of it. From the third walk on what the reader
// finds is a reading in the record; before it the file was followed anew at every look.
type Reads struct {
	p       *fold.Plan
	when    desk.During
	against func() string
}

// ReadsAt are the programs that run at that point; at the desk all.
func ReadsAt(p *fold.Plan, when desk.During) *Reads {
	return &Reads{p, when, sync.OnceValue(func() string { return desk.AgainstOf(p) })}
}

// programs are those that are read there.
func (r *Reads) programs() (out []jobs.Program) {
	for _, g := range r.p.Setup.Programs {
		if r.when == desk.OnDesk || desk.Runs(r.p, g.Role) == r.when {
			out = append(out, g)
		}
	}
	return out
}

// Asks are the readings that the program takes itself.
func (r *Reads) Asks(v fold.View) (asks []fold.Ask) {
	for _, g := range r.programs() {
		asks = append(asks, r.ask(v, g))
	}
	return asks
}

func (r *Reads) ask(v fold.View, g jobs.Program) fold.Ask {
	return fold.Ask{Field: desk.ReadField(g.Role), Since: kit.SinceRead, Label: "the file " + g.File, Kind: fold.Choice,
		Options: []string{"read it now"},
		What:    fold.What{By: fold.BySelf, Of: "program/" + g.Role, Dir: "read"}, Self: func() string { return r.read(v, g).Text() }}
}

// read reads the file as it lies there now.
func (r *Reads) read(v fold.View, g jobs.Program) desk.Reading {
	f, ok := r.p.Program(g.Role)
	if !ok {
		return desk.Reading{File: g.File, Unread: "it does not lie beside the job, or is longer than is read here"}
	}
	rep := r.report(v, f, g.Role)
	return rep.Read(f.Hash, r.against())
}

// file is the program of a role if it can be followed: it lies on the disk, and is the
// one that the record speaks of. Otherwise why says what is the matter.
func (r *Reads) file(v fold.View, g jobs.Program) (f fold.ProgramFile, why string) {
	f, ok := r.p.Program(g.Role)
	if !ok {
		return f, fmt.Sprintf("%s was not read: it does not lie beside the job, or is longer than is read here. Its moves, travel and clearance "+
			"are not checked: fliptrue program does it.", g.File)
	}
	h := r.p.Posted(g.Role)
	if v.Walks(3) {
		h = ""
		if x, ok := desk.ReadingOf(v.Text(desk.ReadField(g.Role))); ok {
			h = x.Sum
		}
	}
	if h != "" && h != f.Hash {
		return f, fmt.Sprintf("%s is not the file that the record speaks of (checksum %s, now %s). Its moves, travel and clearance are not "+
			"checked.", g.File, h, f.Hash)
	}
	return f, ""
}

// report is a program held against the setup at this point of it.
func (r *Reads) report(v fold.View, f fold.ProgramFile, role string) desk.ProgramReport {
	what, heads := desk.Headings, 0.0
	var found desk.AsFound
	if r.when != desk.OnDesk {
		what = desk.Passing
	}
	if r.when == desk.WhileCut {
		what |= desk.Stepping
		found = desk.ScrewsFound(r.p, v)
		if s, ok := facts.Screws.Perhaps(v); ok {
			heads = float64(s.Head)
		}
	}
	a := desk.HeldFor(r.p, v.Perhaps, r.when, heads, found)
	return desk.Reported(r.p, "program."+role, f.Name, role, a, desk.Follow(r.p, f, a), what)
}

// found is what was read of a program.
func (r *Reads) found(v fold.View, g jobs.Program) desk.Reading {
	if v.Walks(3) {
		x, ok := desk.ReadingOf(v.Text(desk.ReadField(g.Role)))
		if !ok {
			return desk.Reading{File: g.File, Unread: "what stands of it in the record is no reading"}
		}
		return x
	}
	f, why := r.file(v, g)
	if why != "" {
		return desk.Reading{File: g.File, Unread: why}
	}
	rep := r.report(v, f, g.Role)
	return rep.Read(f.Hash, "")
}

// tell puts what was read into an outcome.
func (r *Reads) tell(v fold.View, g jobs.Program, o *fold.Outcome) desk.Reading {
	x := r.found(v, g)
	cs := x.Found()
	if x.Unread != "" {
		switch {
		case !v.Walks(3):
			o.Notes = append(o.Notes, x.Unread)
			return x
		case r.when != desk.OnDesk && !r.atDesk(v, g).Summed(): // that was decided at the desk
			o.Notes = append(o.Notes, fmt.Sprintf("%s was not read: its moves are held against nothing that stands here.", g.File))
			return x
		}
		cs = []fold.Check{r.unread(v, g, x)}
	} else if v.Walks(3) {
		cs = append(r.sound(v, g, x, o), cs...)
	}
	o.Checks = append(o.Checks, cs...)
	o.Lines = append(o.Lines, x.Shown()...)
	o.Notes = append(o.Notes, x.Notes...)
	if x.More > 0 {
		o.Notes = append(o.Notes, fmt.Sprintf("%s: %d more findings than the record has room for. See fliptrue program.", g.File, x.More))
	}
	if o.Named == "" {
		o.Named = x.Named
	}
	if len(o.Next) > 0 {
		return x
	}
	for _, c := range cs {
		if !c.Verdict.OK() {
			words := c.Words + " Post " + x.File + " again, leave, and open the job anew: programs are read when it is opened. Nothing is lost."
			if v.Walks(3) {
				words = c.Words + " Post " + x.File + " again: it is read anew. Nothing is lost."
			}
			o.Next = append(o.Next, fold.Act{Do: "post", Of: "program/" + g.Role, Words: words}, fold.Act{Do: "round"})
			break
		}
	}
	return x
}

// unread is the check of a program that nobody read; one that failed and went away still fails.
func (r *Reads) unread(v fold.View, g jobs.Program, x desk.Reading) fold.Check {
	l := fold.Limit{ID: "program." + g.Role + ".read", Why: "reading of " + g.File, Class: fold.Soft}
	if last, ok := lastRead(v, g.Role); ok && last.Verdict() == fold.Fail {
		l.Class = fold.Hard
		return judge.So(l, false, fmt.Sprintf("%s failed when it was read last (checksum %s), and is gone. Put it back or post it again.",
			g.File, last.Sum))
	}
	c := judge.Unknown(l, fmt.Sprintf("%s was not read: %s. Its moves, travel and clearance are not checked.", g.File, x.Unread))
	c.On = desk.ReadField(g.Role)
	return c
}

// lastRead is the newest reading of the file before the one that counts, in this round or those before.
func lastRead(v fold.View, role string) (desk.Reading, bool) {
	if t, ok := v.Round.Get(desk.ReadField(role)); ok {
		for i := len(t.Before) - 1; i >= 0; i-- {
			if x, ok := desk.ReadingOf(t.Before[i]); ok && x.Unread == "" {
				return x, true
			}
		}
	}
	for i := len(v.Earlier) - 1; i >= 0; i-- {
		if t, ok := v.Earlier[i].Get(desk.ReadField(role)); ok {
			if x, ok := desk.ReadingOf(t.Value); ok && x.Unread == "" {
				return x, true
			}
		}
	}
	return desk.Reading{}, false
}

// sound are the checks that a reading speaks of this job as it is now, and of the file that was checked at the desk.
func (r *Reads) sound(v fold.View, g jobs.Program, x desk.Reading, o *fold.Outcome) (cs []fold.Check) {
	if now := r.against(); x.Against != now {
		l := fold.Limit{ID: "program." + g.Role + ".job", Why: g.File + " was held against the job as it is", Class: fold.Soft}
		cs = append(cs, judge.Unknown(l, "Job or card changed since "+g.File+" was read. Read it once more."))
		o.Next = append(o.Next, fold.Act{Do: "again", Of: desk.ReadField(g.Role), Words: "Read " + g.File + " once more."})
	}
	if r.when == desk.OnDesk {
		return cs
	}
	if f := r.atDesk(v, g); f.Summed() {
		l := fold.Limit{ID: "program." + g.Role + ".file", Why: g.File + " is the file that was checked", Class: fold.Never}
		c := judge.So(l, f.Sums(x.Sum), fmt.Sprintf("%s is not the file that was checked: its checksum is now %s.", g.File, x.Sum))
		if !c.Verdict.OK() {
			o.Next = append(o.Next, fold.Act{Do: "declare", Of: "program-reposted", Words: "Check the programs again."})
		}
		cs = append(cs, c)
	}
	return cs
}

// atDesk is what was read of it at the desk, nothing where this step does not stand on that.
func (r *Reads) atDesk(v fold.View, g jobs.Program) facts.ProgramFact {
	f, _ := facts.Program.Of(g.Role).Perhaps(v)
	return f
}

// Pass holds the programs that run at this point against what stands there now: checks,
// the nearest approach, and for cuts the deepest step against what the screws hold.
func (r *Reads) Pass(v fold.View, o *fold.Outcome) {
	for _, unread := range []bool{false, true} {
		for _, g := range r.programs() {
			if (r.found(v, g).Unread != "") == unread {
				r.tell(v, g, o)
			}
		}
	}
}

// Shapes are the paths of the programs that run at this point, conflicts marked, and
// the first that speaks against running one, for a caution.
func (r *Reads) Shapes(v fold.View) (shapes []fold.Shape, warn string) {
	for _, g := range r.programs() {
		f, why := r.file(v, g)
		if why != "" {
			continue
		}
		rep := r.report(v, f, g.Role)
		shapes = append(shapes, rep.Shapes...)
		for _, c := range rep.Checks {
			if warn == "" && c.Verdict == fold.Fail {
				warn = "DO NOT START. " + c.Words
			}
		}
	}
	return shapes, warn
}
