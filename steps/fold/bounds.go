package fold

import (
	"fmt"
	"strconv"
	"strings"

	"fliptrue/calc/unit"
)

// Bound is what a thing can be at all, in internal units, both ends allowed. It is no expectation,
// which is a Window, and no limit: outside it something else was read, or nothing.
type Bound struct {
	Low, High float64
	Why       string // what it is that is so: "an M6 bolt takes"
}

// bounding is the walk from which on a value that can't be is refused where a record has it, and a
// limit loosened without a reason or beyond bounds; what is typed now is refused whatever the walk.
const bounding = 3

// Within says of a value of the kind that is asked whether it can be.
func (p *Plan) Within(a Ask, value string) error {
	if p.house.Bounds == nil {
		return nil
	}
	var x float64
	switch a.Kind {
	case Count:
		n, err := strconv.Atoi(strings.TrimSpace(value))
		if err != nil {
			return err
		}
		x = float64(n)
	case Reading, Echo:
		n, err := unit.Parse(value, a.Unit, p.Job.Unit)
		if err != nil {
			return err
		}
		x = n.Value
	default:
		return nil
	}
	b := p.house.Bounds(p, a)
	if x >= b.Low && x <= b.High {
		return nil
	}
	show := func(v float64) string {
		if a.Kind == Count {
			return strconv.Itoa(int(v))
		}
		if entry := a.EntryUnit(p.Job.Unit); entry != unit.UnitName(a.Unit, p.Job.Unit) { // in the unit that is asked
			if one, err := unit.Parse("1 "+entry, a.Unit, p.Job.Unit); err == nil && one.Value > 0 && a.Unit != unit.KTemperature {
				return strconv.FormatFloat(v/one.Value, 'g', 4, 64) + " " + entry
			}
		}
		return unit.Show(v, a.Unit, p.Job.Unit, 0)
	}
	return fmt.Errorf("%s can't be: %s %s to %s; read it again", show(x), b.Why, show(b.Low), show(b.High))
}

// fits says whether a value of the record is one that may be there.
func (x *resolver) fits(a Ask, value string) error {
	if err := x.p.Fits(a, value); err != nil || x.s.walk < bounding {
		return err
	}
	return x.p.Within(a, value)
}
