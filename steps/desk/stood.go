package desk

import (
	"context"
	"encoding/json"
	"fmt"
	"math"

	"fliptrue/calc/ncode"
	"fliptrue/steps/fold"
)

// Stood is a place at which a program was stopped, held against its passes, as it goes into the record and comes out of it.
type Stood struct {
	File   string     `json:"file"`
	Sum    string     `json:"sum,omitempty"`
	Why    string     `json:"why,omitempty"` // it could not be told; then nothing else is there
	Stop   int        `json:"stop"`          // line, as written down
	At     [3]float64 `json:"at"`            // W, mm
	Blind  bool       `json:"blind,omitempty"`
	Begins int        `json:"begins,omitempty"` // the restart line of that pass
	Off    float64    `json:"off"`              // from that pass, across X and Y
	Over   float64    `json:"over"`             // over what it does there
	Held   []StoodBy  `json:"held,omitempty"`   // passes that cut there
	Under  []StoodBy  `json:"under,omitempty"`  // passes of which X and Y fit alone
}

// StoodBy is a pass by the first line of it that fits, and its restart line.
type StoodBy struct {
	Line   int     `json:"line"`
	Begins int     `json:"begins"`
	Over   float64 `json:"over"`
}

// fewest keeps of many passes the first ones: the earliest is begun with, the others are only named.
const fewest = 8

// StoodOf reads the program of a role and holds the place against its passes.
func StoodOf(p *fold.Plan, get GetFact, role, file string, stop ncode.Stop, at [3]float64, near ncode.Near) Stood {
	s := Stood{File: file, Stop: stop.Line, At: at}
	in, why := stoppedIn(p, get, role)
	if why != "" {
		s.Why = why
		return s
	}
	s.Sum = in.file.Hash
	n, err := ncode.FindStood(context.Background(), in.read(), in.how, in.clear, stop, at, near)
	if err != nil {
		s.Why = err.Error()
		return s
	}
	s.Blind, s.Begins, s.Off, s.Over = n.Blind, n.Begins, told(n.Off), told(n.Over)
	s.Held, s.Under = passes(n.Held), passes(n.Under)
	return s
}

// told is a length as JSON can hold it: far away is a metre.
func told(x float64) float64 { return math.Max(-1000, math.Min(x, 1000)) }

func passes(all []ncode.Pass) (out []StoodBy) {
	for _, q := range all[:min(len(all), fewest)] {
		out = append(out, StoodBy{q.Line, q.Begins, told(q.Over)})
	}
	return out
}

// Is says that it is of this line and this place.
func (s Stood) Is(line int, at [3]float64) bool {
	for i := range at {
		if math.Abs(at[i]-s.At[i]) > 1e-6 {
			return false
		}
	}
	return line == s.Stop
}

// Written is it as a record keeps it.
func (s Stood) Written() string {
	b, err := json.Marshal(s)
	if err != nil || len(b) > maxReading {
		b, _ = json.Marshal(Stood{File: s.File, Stop: s.Stop, Why: tooLong})
	}
	return fmt.Sprintf("%s: line %d", s.File, s.Stop) + " " + string(b)
}

// ReadStood reads it from a record.
func ReadStood(text string) (Stood, bool) { return readKept[Stood](text) }
