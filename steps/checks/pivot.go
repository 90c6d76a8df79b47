package checks

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
	"fliptrue/steps/kit"
)

// pivotMoves is the most that the pivot end moves between two rounds by a tap, or by its bolt loosened and
// tightened (common practice, from memory).
func pivotMoves(p *fold.Plan) float64 { return kit.Even(p, 0.2, 0.1, 0.004) }

// doubtPivot says that the pivot end contradicts the round before, so that nothing is tapped by it yet: one of both
// was read or typed wrong, or its bolt is loose. What is read twice is so.
func (q squaring) doubtPivot(v fold.View, o *fold.Outcome) bool {
	now, fields, ok := q.b.Pivot(v)
	if !ok || !v.Walks(3) {
		return false
	}
	l := fold.Limit{ID: "square.pivot", Why: "the pivot end stays where it was", Class: fold.Soft, Unit: unit.KLength, Max: pivotMoves(q.p)}
	var c fold.Check
	was, known := 0.0, false
	for k := len(v.Earlier) - 1; k >= 0; k-- {
		at, _, ok := q.b.Pivot(v.In(v.Earlier[k], v.Earlier[:k]))
		if !ok {
			continue
		}
		if judge.Off(l, now, at, 0).Verdict == fold.Pass {
			return false // as in one of them
		}
		if !known {
			was, known = at, true
			c = judge.Off(l, now, at, 0)
		}
	}
	if !known {
		return false
	}
	low, _ := kit.Ends(q.p)
	if q.again(v, fields) {
		o.Notes = append(o.Notes, fmt.Sprintf("The %s end moved by %s since the round before: is its bolt firm.", low,
			q.p.Len(math.Abs(now-was))))
		return false
	}
	c.Words = fmt.Sprintf("The %s end reads %s from the round before, and it is the pivot. Read it again before any tap.", low, q.p.Len(c.Got))
	o.Checks = append(o.Checks, c)
	o.Named = "pivot-reading"
	o.Next = append(o.Next, fold.Act{Do: "look", Of: "fixture", Words: fmt.Sprintf("Look at the needle's turns and at the %s end's bolt. "+
		"Then read both ends again.", low)})
	for _, f := range fields {
		o.Next = append(o.Next, fold.Act{Do: "again", Of: f})
	}
	return true
}

// again says that those fields were read a second time in this round, and read as before.
func (q squaring) again(v fold.View, fields []string) bool {
	for _, f := range fields {
		t, ok := v.Round.Get(f)
		if !ok || len(t.Before) == 0 {
			return false
		}
		a, err1 := unit.Parse(t.Value, unit.KLength, q.p.Job.Unit)
		b, err2 := unit.Parse(t.Before[len(t.Before)-1], unit.KLength, q.p.Job.Unit)
		if err1 != nil || err2 != nil || math.Abs(a.Value-b.Value) > pivotMoves(q.p) {
			return false
		}
	}
	return true
}
