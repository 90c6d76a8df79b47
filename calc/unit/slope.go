package unit

import (
	"math/big"
	"strings"
)

// readSlope reads a slope: a plain ratio, or one length over another.
//
//	slope = magnitude [ [unit] over ( [decimal] unit | decimal ) ]     over = "/" | " per "
//
// With a unit on one side only, both sides are in it; that is taken for mm and in
// alone, as in 0.0005/6in, since 1.2/ft and 5um/100 could be two things.
func readSlope(s string) (entry, *refusal) {
	num, den, isRatio := strings.Cut(s, "/")
	if !isRatio {
		num, den, isRatio = strings.Cut(s, " per ")
	}
	num, den = strings.Trim(num, " "), strings.Trim(den, " ")
	if num == "" {
		return entry{}, refuse("type 0.010/100", "not a slope: nothing before the line")
	}
	up, rest, bad := readMagnitude(num)
	if bad != nil {
		return entry{}, bad
	}
	if up.fraction {
		return entry{}, refuse("type 0.010/100", "a fraction where a slope is asked")
	}
	upUnit, bad := slopeUnit(up, rest)
	if bad != nil {
		return entry{}, bad
	}
	e := entry{value: up.exact, tidy: up.tidy, decimals: up.decimals}
	if !isRatio {
		if upUnit != nil {
			return entry{}, refuse(hintFor(KSlope), "a slope is asked, %s is %s", upUnit.name, upUnit.kind)
		}
		return e, nil
	}

	down, downUnit, bad := readOver(den)
	if bad != nil {
		return entry{}, bad
	}
	for _, u := range []*measure{upUnit, downUnit} {
		if u != nil && u.kind != KLength {
			return entry{}, refuse(hintFor(KSlope), "a slope is two lengths, %s is %s", u.name, u.kind)
		}
	}
	if one := sole(upUnit, downUnit); one != nil && one.name != "mm" && one.name != "in" {
		return entry{}, refuse("give both units, as 1.2thou/ft", "%s on one side only", one.name)
	}

	e.ratio(up, down, upUnit, downUnit)
	return e, nil
}

// readOver reads what stands after the line: a length, or a unit alone.
func readOver(den string) (down magnitude, u *measure, bad *refusal) {
	if den == "" {
		return down, nil, refuse("type 0.010/100", "nothing after the line")
	}
	down = magnitude{exact: big.NewRat(1, 1)}
	if digit(den[0]) || den[0] == '.' || den[0] == ',' {
		if down, den, bad = readDecimal(den); bad != nil {
			return down, nil, bad
		}
		den = strings.TrimLeft(den, " ")
	} else if den[0] == '-' || den[0] == '+' {
		return down, nil, refuse("put the sign first", "a sign after the line")
	}
	if u, bad = slopeUnit(down, den); bad != nil {
		return down, nil, bad
	}
	if down.exact.Sign() == 0 {
		return down, nil, refuse("type the length it is measured over", "division by zero")
	}
	return down, u, nil
}

// ratio makes the entry that of one length over another.
func (e *entry) ratio(up, down magnitude, upUnit, downUnit *measure) {
	v := new(big.Rat).Quo(up.exact, down.exact)
	if upUnit != nil && downUnit != nil {
		v.Mul(v, new(big.Rat).Quo(upUnit.scale, downUnit.scale))
	}
	e.value = v
	if upUnit != nil {
		e.tidy += upUnit.write
	}
	e.tidy += "/" + down.tidy
	if downUnit != nil {
		e.tidy += downUnit.write
	}
	if one := sole(upUnit, downUnit); one != nil {
		e.unit = one.name + "/" + one.name
	} else if upUnit != nil {
		e.unit = upUnit.name + "/" + downUnit.name
	}
}

// slopeUnit is the unit in rest, nil when there is none.
func slopeUnit(m magnitude, rest string) (*measure, *refusal) {
	if rest == "" {
		return nil, nil
	}
	if u := lookUp(rest); u != nil {
		return u, nil
	}
	return nil, badRest(m, rest, KSlope)
}

// sole is the unit given when only one of the two is.
func sole(a, b *measure) *measure {
	switch {
	case a == nil:
		return b
	case b == nil:
		return a
	}
	return nil
}
