package register

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
	"fliptrue/calc/frame"
	"fliptrue/calc/unit"
)

// Half-widths of what a witness cut leaves open (estimates, common practice).
const (
	AssumedFinish = 0.006 // the finishing pass against the steps: another load, a worn edge, mm
	AssumedSides  = 0.005 // the size along Y against that along X, mm
)

// Steps are four small steps that the finisher cut outside the final outline, each against side 1's face behind it:
// step minus face along the + axis, mm, both touched from the same side, so that probe and zero cancel.
type Steps struct {
	Right, Left      float64 // along X, both at Y = At
	Away, Toward     float64 // along Y, at X = AwayAt and TowardAt
	At               float64
	AwayAt, TowardAt float64
	Off              float64 // how far outside the outline they were programmed
	Touch            float64 // standard uncertainty of one touch
	Dof              float64
}

// Cut is what the steps say: where the part's features stand minus where the tool cuts, about the part zero, and by how
// much the outline comes out too large on each side. Growth and runout are in the size, and in no offset.
type Cut struct {
	Motion frame.Motion
	Cov    [3][3]float64 // of its X, Y (mm²) and turn
	Dof    float64
	Size   float64
	Middle frame.Vec // between the faces: growth counts from there
}

// Cut solves the steps:
//
//	size = (Right - Left)/2 - Off          eX(At) = -(Right + Left)/2
//	eY(AwayAt) = Off + size - Away         eY(TowardAt) = -(Off + size) - Toward
//	turn = (eY(AwayAt) - eY(TowardAt))/(AwayAt - TowardAt)
//
// Each difference has the variance 2·Touch², carried through the same lines. Derived; the error is that of two ends of no
// distance, or of numbers that are none.
func (s Steps) Cut(middle frame.Vec) (Cut, error) {
	l := s.AwayAt - s.TowardAt
	for _, v := range []float64{s.Right, s.Left, s.Away, s.Toward, s.At, l, s.Off, s.Touch} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return Cut{}, fmt.Errorf("witness cut: %v is no number; read the steps again", v)
		}
	}
	if math.Abs(l) < 1 {
		return Cut{}, fmt.Errorf("witness cut: the steps along Y are %.3g mm apart and show no turn; cut them at both ends", math.Abs(l))
	}
	c := Cut{Size: (s.Right-s.Left)/2 - s.Off, Dof: s.Dof, Middle: middle}
	away, toward := s.Off+c.Size-s.Away, -(s.Off+c.Size)-s.Toward
	turn := (away - toward) / l
	c.Motion = frame.Motion{Shift: frame.Vec{X: -(s.Right+s.Left)/2 + turn*s.At, Y: away - turn*s.AwayAt}, Turn: unit.Angle(turn)}
	rot := [4]float64{1 / l, -1 / l, -1 / l, 1 / l} // by Right, Left, Away, Toward
	j := [3][4]float64{{-0.5, -0.5, 0, 0}, {0.5, -0.5, -1, 0}, rot}
	for k := range rot {
		j[0][k] += s.At * rot[k]
		j[1][k] -= s.AwayAt * rot[k]
	}
	for a := range j {
		for b := range j {
			for k := range rot {
				c.Cov[a][b] += 2 * s.Touch * s.Touch * j[a][k] * j[b][k]
			}
		}
	}
	return c, nil
}

// known is the signed error at a place: the measured motion, and growth from the middle between the faces on.
func (c *Cut) known(s Setup, q frame.Vec) frame.Vec {
	e := c.Motion.Move(q)
	if s.Close != nil {
		x, _ := s.Close.Grown[0].At(q.X - c.Middle.X)
		y, _ := s.Close.Grown[1].At(q.Y - c.Middle.Y)
		e = e.Add(frame.Vec{X: x, Y: y})
	}
	return e
}

// lines are all that stays open once the register itself was measured.
func (c *Cut) lines(s Setup, q frame.Vec, axis int) []budget.Line {
	at := s.cutCov(q)
	ls := []budget.Line{budget.N("witness cut", math.Sqrt(at[axis][axis]), c.Dof).From("four steps against side 1's faces"),
		budget.R("finishing pass", AssumedFinish).From("another load than the steps were cut with").AsAssumed()}
	if axis == 1 {
		ls = append(ls, budget.R("size along Y", AssumedSides).From("taken as that along X").AsAssumed())
	}
	if along, _ := s.outOfSquare(); axis == along {
		ls = append(ls, s.Machine.square(axisOf(q, 1-along), axisOf(c.Middle, 1-along)))
	}
	if s.Close != nil {
		_, grown := s.Close.Grown[axis].At(axisOf(q, axis) - axisOf(c.Middle, axis))
		ls = append(ls, grown...)
	}
	if s.Drift > 0 {
		ls = append(ls, budget.R("found at a recheck", s.Drift).From("difference found"))
	}
	return ls
}

func (s Setup) cutCov(q frame.Vec) frame.Cov2 { return s.Cut.Motion.CovAt(q, s.Cut.Cov) }
