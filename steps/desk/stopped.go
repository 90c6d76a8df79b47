package desk

import (
	"bytes"
	"encoding/json"
	"io"
	"strings"

	"fliptrue/calc/ncode"
	"fliptrue/steps/fold"
)

// stopped is the program of a role as it is searched after a stop: by what it is held against at the desk.
type stopped struct {
	file  fold.ProgramFile
	held  heldAgainst
	how   ncode.Options
	clear float64 // Z over which nothing is cut, W, mm
}

// stoppedIn is the program of a role; why says in words that it is not there.
func stoppedIn(p *fold.Plan, get GetFact, role string) (s stopped, why string) {
	f, ok := p.Program(role)
	if !ok {
		return s, "it does not lie beside the job, or is longer than is read here"
	}
	a := HeldFor(p, get, OnDesk, 0, AsFound{})
	return stopped{f, a, ncode.Options{Expect: a.expect, Lenient: a.lenient}, *a.expect.Clearance}, ""
}

func (s stopped) read() io.Reader { return bytes.NewReader(s.file.Data) }

// tooLong is said in a record in place of what does not fit a reading.
const tooLong = "what it says is too long for the record"

// readKept reads from a record what stands there behind its heading.
func readKept[T any](text string) (t T, ok bool) {
	_, body, found := strings.Cut(text, " {")
	return t, found && json.Unmarshal([]byte("{"+body), &t) == nil
}
