package fit

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
)

// Axis is the axis a witness is read along.
type Axis int

const (
	AxisX Axis = iota
	AxisY
	AxisZ
)

// Difference is the shift of one witness, part minus fixture, mm.
type Difference struct {
	Axis Axis
	At   Point
	D    float64
	Q    float64 // variance for unit scatter from the part's own repeats: 1/n1 + 1/n2
}

// Shifted is a Difference judged.
type Shifted struct {
	Difference
	U        float64 // s·√(Q + Q of the reference on this axis)
	Limit    float64 // critical t · U
	Real     bool    // |D| > Limit
	Residual float64 // what the rigid motion leaves
}

// Motion is one rigid motion of the part against its fixture.
type Motion struct {
	Shifts     []Shifted
	S, Dof     float64 // pooled scatter of one reading, never below the probe's
	Critical   float64 // two-sided Student t at 5 %/number of witnesses
	Plan       bool    // Move and Turn are known
	Move       Point   // of the place (0, 0)
	Turn       float64 // rad, counter-clockwise +
	PlanCov    [3][3]float64
	Lifted     bool    // Lift is known
	Tilted     bool    // TiltX, TiltY are known as well; without them Lift is the mean
	Lift       float64 // at (0, 0), mm
	TiltX      float64 // rise of Z per X and per Y (ratios)
	TiltY      float64
	LiftCov    [3][3]float64 // of (Lift, TiltX, TiltY)
	PlanDOF    int           // redundant witnesses
	LiftDOF    int
	Bad        []int // witnesses a rigid motion cannot explain: one is named, several cannot be told apart
	BadVerdict Verdict
	Look       float64 // factor of a guard where it is looked at more than once: budget.Looks; 0: this is the only look
}

// SolveMotion solves by least squares, weights 1/Q:
//
//	X witness at (x, y): d = dx - turn·y        Y witness: d = dy + turn·x
//	Z witness:           d = lift + tiltX·x + tiltY·y
//
// The reference's own error is common to all witnesses of an axis: it moves dx, dy, lift
// as a whole and nothing else, so its variance is added to those after the solution. The
// covariances are for S with its Dof. Small motions: turn in rad, first order.
//
// X and Y witnesses, if there are any, must fix dx, dy and turn (at least three, not all
// of one axis, with a lever); else a DegenerateError. Z witnesses: three or more, not on
// a line, give lift and tilts; fewer give their mean as the lift. A scatter that is not
// above 0 with Dof above 0 is an error. Derived; the same as generalised least squares
// over all witnesses and the reference at once.
func SolveMotion(ds []Difference, ref [3]float64, s budget.Spread) (Motion, error) {
	if len(ds) == 0 {
		return Motion{}, &DegenerateError{What: "rigid motion", Why: TooFew, Need: 1, Got: 0}
	}
	if !(s.S > 0) || !(s.Dof > 0) {
		return Motion{}, fmt.Errorf("rigid motion: no scatter is known; repeat each witness or calibrate the probe first")
	}
	m := Motion{S: s.S, Dof: s.Dof, Critical: budget.CriticalT(0.05, len(ds), s.Dof), Shifts: make([]Shifted, len(ds))}
	plan, lift, err := m.shifted(ds, ref)
	if err != nil {
		return Motion{}, err
	}
	var bad, badLift []int
	vp, vl := NoStatement, NoStatement
	if len(plan) > 0 {
		if bad, vp, err = m.inPlan(plan, ref, s); err != nil {
			return Motion{}, err
		}
	}
	if len(lift) > 0 {
		badLift, vl = m.lifted(lift, ref[AxisZ], s)
	}
	m.Bad = append(bad, badLift...)
	m.BadVerdict = max(vp, vl)
	return m, nil
}

// shifted holds each difference against what scatter alone makes of it, and says which tell of the plan and which of the lift.
func (m *Motion) shifted(ds []Difference, ref [3]float64) (plan, lift []int, err error) {
	for i, d := range ds {
		if err := finite("witness difference", i, d.D, d.At.X, d.At.Y); err != nil {
			return nil, nil, err
		}
		if !(d.Q > 0) {
			panic("fit: witness without a variance")
		}
		u := m.S * math.Sqrt(d.Q+ref[d.Axis])
		m.Shifts[i] = Shifted{Difference: d, U: u, Limit: m.Critical * u, Real: math.Abs(d.D) > m.Critical*u}
		if d.Axis == AxisZ {
			lift = append(lift, i)
		} else {
			plan = append(plan, i)
		}
	}
	return plan, lift, nil
}

// inPlan solves the X and Y witnesses, about their middle and from there back to the place (0, 0).
func (m *Motion) inPlan(at []int, ref [3]float64, s budget.Spread) (bad []int, v Verdict, err error) {
	sys := m.system(at, func(d Difference, x, y float64) [3]float64 {
		if d.Axis == AxisX {
			return [3]float64{1, 0, -y}
		}
		return [3]float64{0, 1, x}
	})
	x, cov, ok := sys.solve(s.S)
	if !ok {
		return nil, v, &DegenerateError{What: "motion in plan", Why: TooFew, Need: 3, Got: min(len(at), 2)}
	}
	c := sys.mean
	cov[0][0] += sq(s.S) * ref[AxisX]
	cov[1][1] += sq(s.S) * ref[AxisY]
	m.Plan, m.Turn, m.PlanDOF = true, x[2], len(at)-3
	m.Move = Point{x[0] + float64(x[2]*c.Y), x[1] - float64(x[2]*c.X)}
	m.PlanCov = moved(cov, [3][3]float64{{1, 0, c.Y}, {0, 1, -c.X}, {0, 0, 1}})
	bad, v = sys.name(m.Shifts, m.PlanDOF, s)
	return bad, v, nil
}

// lifted solves the Z witnesses; those that fix no plane give their mean.
func (m *Motion) lifted(at []int, ref float64, s budget.Spread) (bad []int, v Verdict) {
	sys := m.system(at, func(_ Difference, x, y float64) [3]float64 { return [3]float64{1, x, y} })
	x, cov, ok := sys.solve(s.S)
	m.Lifted, m.Tilted = true, ok
	if !ok {
		m.liftMean(at, ref)
		return nil, NoStatement
	}
	c := sys.mean
	cov[0][0] += sq(s.S) * ref
	m.LiftDOF = len(at) - 3
	m.Lift, m.TiltX, m.TiltY = x[0]-float64(x[1]*c.X)-float64(x[2]*c.Y), x[1], x[2]
	m.LiftCov = moved(cov, [3][3]float64{{1, -c.X, -c.Y}, {0, 1, 0}, {0, 0, 1}})
	return sys.name(m.Shifts, m.LiftDOF, s)
}

func (m *Motion) liftMean(at []int, ref float64) {
	var sw, sd float64
	for _, i := range at {
		sw += 1 / m.Shifts[i].Q
		sd += m.Shifts[i].D / m.Shifts[i].Q
	}
	m.Lift = sd / sw
	m.LiftCov[0][0] = sq(m.S) * (1/sw + ref)
	for _, i := range at {
		m.Shifts[i].Residual = m.Shifts[i].D - m.Lift
	}
}

// system is one least squares problem over some of the witnesses, about their middle.
type system struct {
	at   []int
	mean Point
	rows [][3]float64
	y, w []float64
	cof  mat3
	res  []float64
}

func (m Motion) system(at []int, row func(Difference, float64, float64) [3]float64) *system {
	s := &system{at: at}
	for _, i := range at {
		s.mean = s.mean.Add(m.Shifts[i].At)
	}
	n := float64(len(at))
	s.mean = Point{s.mean.X / n, s.mean.Y / n}
	for _, i := range at {
		d := m.Shifts[i].Difference
		s.rows = append(s.rows, row(d, d.At.X-s.mean.X, d.At.Y-s.mean.Y))
		s.y = append(s.y, d.D)
		s.w = append(s.w, 1/d.Q)
	}
	return s
}

func (s *system) solve(scatter float64) (x [3]float64, cov [3][3]float64, ok bool) {
	if x, s.cof, s.res, ok = lsq(s.rows, s.y, s.w); !ok {
		return x, cov, false
	}
	for i := range cov {
		for j := range cov {
			cov[i][j] = sq(scatter) * s.cof[i][j]
		}
	}
	return x, cov, true
}

// name writes the residuals and looks for the witness a rigid motion cannot explain: out
// of family with all, in family without it. Limits as NameHit's, at 99 %.
func (s *system) name(shifts []Shifted, dof int, probe budget.Spread) (bad []int, v Verdict) {
	for k, i := range s.at {
		shifts[i].Residual = s.res[k]
	}
	if dof < 1 {
		return nil, NoStatement
	}
	sse := 0.0
	for k, e := range s.res {
		sse += s.w[k] * e * e
	}
	in := func(sse float64, dof int) bool {
		return dof < 1 || sse <= sq(probe.S)*float64(dof)*budget.FQuantile(familyShare, float64(dof), probe.Dof)
	}
	if in(sse, dof) {
		return nil, Clean
	}
	for k, e := range s.res {
		free := 1 - s.w[k]*s.cof.quad(s.rows[k])
		if free > 1e-9 && in(sse-s.w[k]*e*e/free, dof-1) {
			bad = append(bad, s.at[k])
		}
	}
	if len(bad) == 1 {
		return bad, Named
	}
	return bad, Unnamed
}

// moved returns J·cov·Jᵀ.
func moved(cov, j [3][3]float64) (out [3][3]float64) {
	for a := range 3 {
		for b := range 3 {
			for k := range 3 {
				for l := range 3 {
					out[a][b] += j[a][k] * cov[k][l] * j[b][l]
				}
			}
		}
	}
	return out
}

// At returns the motion of a place p in plan and its standard uncertainty per axis.
//
//	x: dx - turn·y   y: dy + turn·x
func (m Motion) At(p Point) (d, u Point) {
	d = Point{m.Move.X - float64(m.Turn*p.Y), m.Move.Y + float64(m.Turn*p.X)}
	c := mat3(m.PlanCov)
	return d, Point{math.Sqrt(math.Max(0, c.quad([3]float64{1, 0, -p.Y}))), math.Sqrt(math.Max(0, c.quad([3]float64{0, 1, p.X})))}
}

// LiftAt returns the rise of a place p and its standard uncertainty; without Tilted, the
// mean lift.
func (m Motion) LiftAt(p Point) (d, u float64) {
	d = m.Lift + float64(m.TiltX*p.X) + float64(m.TiltY*p.Y)
	return d, math.Sqrt(math.Max(0, mat3(m.LiftCov).quad([3]float64{1, p.X, p.Y})))
}

// Guard returns the one-sided 95 % guard for a standard uncertainty u of this motion, or that of one of its looks.
func (m Motion) Guard(u float64) float64 {
	if m.Look > 0 {
		return budget.LookGuard(m.Look, u, m.Dof)
	}
	return budget.TQuantile(0.95, m.Dof) * u
}

// AnyReal reports whether any witness moved beyond the pooled limit.
func (m Motion) AnyReal() bool {
	for _, s := range m.Shifts {
		if s.Real {
			return true
		}
	}
	return false
}
