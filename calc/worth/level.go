// Package worth says how much reading pays: minutes spent at the mill against the minutes that an
// undetected mistake would cost.
//
// Goals: a fixed table, so that the same part, history and allowance always give the same level.
// Non-goals: what a level reads; that is the steps' own.
package worth

import (
	"errors"
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// Level is how much is read: 1 where fixture and programs are proven, 2 where one of them is used for
// the first time or nothing is known of it, 3 for a part that can't be made again.
type Level int

// Levels, from the least read to the most.
const (
	Proven        Level = 1
	FirstUse      Level = 2
	Irreplaceable Level = 3
)

// Case is what the choice rests on.
type Case struct {
	Allowance unit.Length // register allowance, mm
	// Worth is what the part costs to make again with its first side, minutes; 0 where nobody said, and
	// then it counts as one that can't be made again.
	Worth unit.Duration
	// Spares are blanks beside this one; Worth is shared among them.
	Spares int
	// GoodFixture and GoodPrograms are how many good parts this fixture, and these very programs, have made.
	GoodFixture, GoodPrograms int
	// Doubted says that the last walk had a mishap, a rescue or changed programs: one level more.
	Doubted bool
	// Scale says that the fixture's scale is measured, by two bores or by a thermometer read when it was
	// made and read now. Without it the least level is not offered.
	Scale bool
	// Strapped says that the part is strapped, drilled and swapped to screws; there the third level pays only
	// at the smallest allowance.
	Strapped bool
}

// provenParts are the good parts from which on a fixture or a program counts as proven (common practice).
const provenParts = 3

// row is one line of the table: the worth in minutes up to which a level is the cheapest, reading and
// risk taken together.
type row struct {
	from     float64 // allowance from which on it holds, mm
	one, two float64
	strapped float64 // two, for a part that is strapped first
}

// table was computed from 33 and 38 mistakes, each with a frequency, a size and the catch of every reading; the frequencies are
// judgement and may be wrong by three. Over what is read today cmd/prove worth finds the borders two to three times as high, which is
// where three times the frequencies would put them here: the table reads rather too much.
var table = []row{
	{0.20, 462, 3000, 6000},
	{0.05, 222, 2300, 6000},
	{0, 62, 650, 1000},
}

// Choose is the level that costs least, with the reason in words. Its errors name a value that can't be.
func Choose(c Case) (Level, string, error) {
	switch {
	case !(c.Allowance > 0) || math.IsInf(float64(c.Allowance), 0):
		return 0, "", errors.New("the allowance is not above 0")
	case !(c.Worth >= 0) || math.IsInf(float64(c.Worth), 0):
		return 0, "", fmt.Errorf("worth %v is not a time", c.Worth)
	case c.Spares < 0 || c.GoodFixture < 0 || c.GoodPrograms < 0:
		return 0, "", errors.New("a count is below 0")
	}
	l, why := c.least()
	if c.Doubted && l < Irreplaceable {
		return l + 1, "one level up: the walk before had a mishap, or something was changed since", nil
	}
	return l, why, nil
}

func (c Case) least() (Level, string) {
	r := c.row()
	worth := float64(c.Worth) / float64(1+c.Spares)
	most := r.two
	if c.Strapped {
		most = r.strapped
	}
	proven := c.GoodFixture >= provenParts && c.GoodPrograms >= provenParts
	switch {
	case c.Worth == 0 && c.Spares == 0:
		return Irreplaceable, "the job gives neither worth nor spares"
	case worth > most:
		return Irreplaceable, "the part is worth more than any reading"
	case c.Worth == 0:
		return FirstUse, "there are spare blanks; the job gives no worth"
	case !proven:
		return FirstUse, fmt.Sprintf("fixture or programs have made fewer than %d good parts", provenParts)
	case worth > r.one:
		return FirstUse, "the part is worth a few readings more"
	case !c.Scale:
		return FirstUse, "neither a second bore nor a thermometer gives the fixture's scale"
	}
	return Proven, fmt.Sprintf("fixture and programs have made %d good parts", min(c.GoodFixture, c.GoodPrograms))
}

func (c Case) row() row {
	for _, r := range table {
		if float64(c.Allowance) >= r.from-1e-9 {
			return r
		}
	}
	return table[len(table)-1]
}
