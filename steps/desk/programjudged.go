package desk

import (
	"fmt"

	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// JudgedFile is a program as the record judged it, and what is to be said of the file that lies there now.
type JudgedFile struct {
	Role, File string
	Sum        string       // of the file that was judged, "" where the record does not say
	Verdict    fold.Verdict // of what was read of it last; none in records of before
	Box        *[6]float64
	Now        string // checksum of the file that lies there now, "" for none
}

// Exchanged says that another file lies there now.
func (j JudgedFile) Exchanged() bool { return j.Sum != "" && j.Now != "" && j.Now != j.Sum }

// Says is what is to be said of the file that lies there now, "" where it is the same.
func (j JudgedFile) Says() string {
	switch {
	case j.Exchanged():
		return fmt.Sprintf("the file there now is not the one judged (checksum %s)", j.Now)
	case j.Sum != "" && j.Now == "":
		return "not beside the job any more"
	}
	return ""
}

// JudgedFiles are the setup's programs.
func JudgedFiles(st *fold.State) (out []JudgedFile) {
	p := st.Plan()
	for _, g := range p.Setup.Programs {
		j := JudgedFile{Role: g.Role, File: g.File, Sum: p.Posted(g.Role)}
		if k, ok := st.Fact(fold.FactID("program/" + g.Role)); ok {
			if f, ok := facts.Program.Read(k); ok && len(f.Box) >= 6 {
				j.Box = (*[6]float64)(f.Box[:6])
			}
		}
		if x, ok := newestReading(st, g.Role); ok {
			j.Sum, j.Verdict = x.Sum, x.Verdict()
		} else if st.Walks(3) {
			j.Sum = ""
		}
		if f, ok := p.Program(g.Role); ok {
			j.Now = f.Hash
		}
		out = append(out, j)
	}
	return out
}

// ReadField is the field in which a step has what was read of the program of that role.
func ReadField(role string) string { return role + ".read" }

// newestReading is what was read of a program last, at any step.
func newestReading(st *fold.State, role string) (r Reading, ok bool) {
	last := fold.Seq(0)
	for _, ss := range st.Steps {
		for _, round := range ss.Rounds {
			if t, taken := round.Get(ReadField(role)); taken && t.By == fold.BySelf && t.Seq > last {
				if x, sound := ReadingOf(t.Value); sound {
					r, ok, last = x, true, t.Seq
				}
			}
		}
	}
	return r, ok
}
