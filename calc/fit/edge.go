package fit

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
)

// Defaults of an indicator run, mm. Estimates, common practice.
const (
	AxisStraightness = 0.003 // half-width of the moving axis's own wander over a run
	ClosingFloor     = 0.002 // a closing error up to this is never held against a run
	JogTravel        = 0.200 // jog test of an edge
)

// Scale turns a dial reading into movement of the surface along the + axis: movement =
// V · reading change. Rel is its relative standard uncertainty.
type Scale struct{ V, Rel float64 }

// ScaleError is a jog test that cannot be used.
type ScaleError struct {
	Jog, Change float64 // as read, mm
	Scale       float64 // 0 when the needle did not move
}

func (e *ScaleError) Error() string {
	if e.Change == 0 {
		return fmt.Sprintf(
			"jog test: the needle did not move over a jog of %g; the stylus may not touch, or the wrong axis was jogged: repeat it", e.Jog)
	}
	return fmt.Sprintf("jog test: scale %.3f lies outside 0.45 to 1.1; lost motion, a stylus too steep, or the wrong axis: set the dial "+
		"again and repeat it", e.Scale)
}

// A dial's scale lies within these, or the jog test is not to be used (common practice).
const (
	ScaleLeast = 0.45
	ScaleMost  = 1.1
)

// JogScale returns the scale of a dial from a jog of its carrier, tool toward + relative
// to the part, which moved the reading from before to after.
//
//	scale = -jog/(after - before)     u(scale)/scale = √2·u_res/|after - before|
//	u_res = graduation/√12
//
// The one signed number holds the facing of the surface, the sense of the needle, the
// angle of the stylus and the dial's design angle. The same holds for an edge, for a
// dial swept in a bore and for one swept round a pin. Outside ScaleLeast <= |scale| <= ScaleMost, or
// with a needle that did not move, the error is a ScaleError; the scale is then not to
// be used. Derived; the rectangular reading error is that of JCGM 100:2008, 4.3.7.
func JogScale(jog, before, after, graduation float64) (Scale, error) {
	for i, v := range []float64{jog, before, after, graduation} {
		if err := finite("number of the jog test", i, v); err != nil {
			return Scale{}, err
		}
	}
	change := after - before
	if change == 0 || jog == 0 {
		return Scale{}, &ScaleError{Jog: jog, Change: change}
	}
	v := -jog / change
	if math.Abs(v) < ScaleLeast || math.Abs(v) > ScaleMost {
		return Scale{}, &ScaleError{Jog: jog, Change: change, Scale: v}
	}
	return Scale{V: v, Rel: math.Sqrt2 * resolution(graduation) / math.Abs(change)}, nil
}

// NeedleScale returns the scale where there is no readout to jog by.
//
//	scale = s·cos(angle)/cos(design)
//	s: an edge pushes the stylus the way it faces; pushed further that way the needle
//	goes clockwise (+) or not. Facing + and clockwise, or facing - and not: s = +1.
//
// angle is between stylus and surface, design the angle at which this dial reads true
// (0 for a plain lever), both rad. Source of the cosine: common published tables,
// true = reading × cos(angle).
func NeedleScale(faces Direction, clockwise bool, angle, design float64) Scale {
	s := faces.Sign()
	if !clockwise {
		s = -s
	}
	return Scale{V: s * math.Cos(angle) / math.Cos(design)}
}

func resolution(graduation float64) float64 { return graduation / math.Sqrt(12) }

// Run is one pass of an indicator along an edge.
type Run struct {
	AlongY     bool      // the edge runs along Y (it faces left or right); else along X
	Stations   []float64 // along the edge, mm
	Readings   []float64 // on the dial, mm, clockwise +
	Closing    Value     // reading on coming back to the first station
	Scale      Scale
	Graduation float64 // of the dial, mm
	// Axis is the half-width of the moving axis's straightness over the run, mm;
	// Value{} takes AxisStraightness.
	Axis Value
}

// Edge is what a run says.
type Edge struct {
	Line         // of the readings on the stations, dial mm
	AlongY       bool
	Scale        Scale
	Rise         float64 // across the whole run, along the + axis, signed: Surface slope · Length
	SurfaceSlope float64 // Scale · Slope
	Theta        float64 // direction of the edge against its axis, rad, counter-clockwise +
	Length       float64 // greatest minus smallest station
	Form         Value   // straightness of the edge: Straightness · |Scale|
	UFit         float64 // the four lines of u(theta), rad
	UDrift       float64
	UAxis        float64
	UScale       float64
	UTheta       float64
	ClosingError Value   // closing minus first reading, dial mm
	Corrected    Value   // SurfaceSlope with linear drift in time taken off
	Nick         int     // station from 0 whose reading does not belong, else -1
	NickDepth    float64 // its deviation from the line of the others, along the + axis
}

// Edge fits the run.
//
//	surface slope = scale·b, b the slope of readings on stations
//	theta = atan(scale·b) along X, -atan(scale·b) along Y
//	u_fit   = max(s, u_res)·|scale|/√Sxx, two stations: √2·u_res·|scale|/L
//	u_drift = |closing|·|scale|/(√3·L)      u_axis = axis/(√3·L)
//	u_theta = √(u_fit² + u_drift² + u_axis² + (theta·u(scale)/scale)²)
//
// With n readings and the closing one at equal intervals, drift in time of closing/n a
// reading is taken off for Corrected. A nick is named by leaving each station out, n >= 5:
// it must be more than 4 times the scatter of the rest (never less than u_res), more than
// Student's t at 1 %/n allows for one more reading, and the only one that is. Two stations
// give no straightness, no closing reading leaves drift unknown and its line 0. All
// readings equal is a good run. Errors: as ToLine, or lists of unequal length.
// Source: JCGM 100:2008 H.3 for the line, 4.3.7 for the rectangular lines (from memory).
func (r Run) Edge() (Edge, error) {
	n := len(r.Stations)
	if n != len(r.Readings) {
		return Edge{}, fmt.Errorf("run: %d stations but %d readings; give one reading a station", n, len(r.Readings))
	}
	if err := finite("scale", 0, r.Scale.V, r.Scale.Rel, r.Graduation, r.Closing.V); err != nil {
		return Edge{}, err
	}
	ps := make([]Point, n)
	for i := range ps {
		ps[i] = Point{r.Stations[i], r.Readings[i]}
	}
	l, err := ToLine(ps)
	if err != nil {
		return Edge{}, err
	}
	k, ures := math.Abs(r.Scale.V), resolution(r.Graduation)
	e := Edge{Line: l, AlongY: r.AlongY, Scale: r.Scale, Length: span(r.Stations), Nick: -1}
	e.SurfaceSlope = r.Scale.V * l.Slope
	e.Rise = e.SurfaceSlope * e.Length
	e.Theta = math.Atan(e.SurfaceSlope)
	if r.AlongY {
		e.Theta = -e.Theta
	}
	if l.S.Has {
		e.Form = Known(l.Straightness.V * k)
		e.UFit = math.Max(l.S.V, ures) * k / math.Sqrt(l.Sxx)
	} else {
		e.UFit = math.Sqrt2 * ures * k / e.Length
	}
	axis := AxisStraightness
	if r.Axis.Has {
		axis = r.Axis.V
	}
	e.UAxis = axis / (math.Sqrt(3) * e.Length)
	if r.Closing.Has {
		c := r.Closing.V - r.Readings[0]
		e.ClosingError = Known(c)
		e.UDrift = math.Abs(c) * k / (math.Sqrt(3) * e.Length)
		for i := range ps {
			ps[i].Y -= c * float64(i) / float64(n)
		}
		if d, err := ToLine(ps); err == nil {
			e.Corrected = Known(r.Scale.V * d.Slope)
		}
	}
	e.UScale = math.Abs(e.Theta) * r.Scale.Rel
	e.UTheta = math.Sqrt(sq(e.UFit) + sq(e.UDrift) + sq(e.UAxis) + sq(e.UScale))
	e.nick(r, ures)
	return e, nil
}

func (e *Edge) nick(r Run, ures float64) {
	n := e.N
	if n < 5 {
		return
	}
	leverage := make([]float64, n)
	for i, x := range r.Stations {
		leverage[i] = 1/float64(n) + sq(x-e.MeanX)/e.Sxx
	}
	t := budget.CriticalT(0.01, n, float64(n-3))
	for i, l := range leaveEach(e.Residuals, leverage, e.DOF) {
		// one more reading about a line: its variance is 1 + h/(1-h) = 1/(1-h)
		wide := 1 / math.Sqrt(1-leverage[i])
		d := math.Abs(l.Deviation)
		if !l.OK || d <= 4*math.Max(l.S, ures) || d <= wide*math.Max(t*l.S, 4*ures) {
			continue
		}
		if e.Nick >= 0 { // two stations explain it equally well: name none
			e.Nick, e.NickDepth = -1, 0
			return
		}
		e.Nick, e.NickDepth = i, r.Scale.V*l.Deviation
	}
}

// Closing is the verdict on coming back to the first station.
type Closing struct {
	OK         bool
	Error      float64 // dial mm, signed
	DialLimit  float64 // max(one graduation, 0.002), dial mm
	Surface    float64 // |Error · scale|, mm
	SurfaceMax float64 // half of the permitted rise over the run, mm
}

// CheckClosing judges the closing error against the dial and against what is permitted,
// never against the slope found: a squared edge has slope 0. permitted is the skew limit,
// rad; over the length of the run it gives the permitted rise. Without a closing reading
// ok is false.
func (e Edge) CheckClosing(permitted, graduation float64) (c Closing, ok bool) {
	if !e.ClosingError.Has {
		return Closing{}, false
	}
	c = Closing{Error: e.ClosingError.V, DialLimit: math.Max(graduation, ClosingFloor),
		Surface: math.Abs(e.ClosingError.V * e.Scale.V), SurfaceMax: math.Abs(permitted) * e.Length / 2}
	// a reading that sits on its limit to the last bit is on the good side of it
	c.OK = math.Abs(c.Error) <= c.DialLimit*(1+1e-9) && c.Surface <= c.SurfaceMax*(1+1e-9)
	return c, true
}

// Turned says how a tap went.
type Turned int

const (
	AsAdvised Turned = iota // smaller than before, or changed too little to tell
	WrongWay                // the skew grew, same sign
	Doubled                 // and by about as much as it was: a full tap in the wrong direction
)

// Judge compares skew (or rise over the same run) before and after a tap, with their
// standard uncertainties.
//
//	WrongWay: same sign and |after| > |before| + 3·√(u1² + u2²)
//	Doubled:  and |after|/|before| in 1.8 to 2.2
//
// Either the tap went the wrong way or the jog test was wrong. Common practice.
func Judge(before, u1, after, u2 float64) Turned {
	if before*after <= 0 || math.Abs(after) <= math.Abs(before)+3*math.Hypot(u1, u2) {
		return AsAdvised
	}
	if r := after / before; r >= 1.8 && r <= 2.2 {
		return Doubled
	}
	return WrongWay
}

// Outlying is the station whose reading belongs least to the others, with its deviation from their line along the + axis;
// ok is false where none stands out by more than the dial's steps explain.
//
//	n >= 4: the largest deviation from the line of the others, above 4·u_res/√(1-h)
//	n = 3: one deviation fits all three; the station is that without which both ends come nearest to before,
//	what the dial read at the first and the last station a moment ago, dial mm; without before none is named
//
// It says where to look, not that a reading is wrong. Derived from the exact identities of leave-one-out.
func (r Run) Outlying(before [2]Value) (station int, off float64, ok bool) {
	e, err := r.Edge()
	if err != nil || e.N < 3 {
		return -1, 0, false
	}
	if e.Nick >= 0 {
		return e.Nick, e.NickDepth, true
	}
	ures := resolution(r.Graduation)
	best, worst := -1, math.Inf(-1)
	for i, x := range r.Stations {
		free := 1 - 1/float64(e.N) - sq(x-e.MeanX)/e.Sxx
		d := e.Residuals[i] / free
		if free < 1e-9 || math.Abs(d) <= 4*ures/math.Sqrt(free) {
			continue
		}
		belongs := math.Abs(d) * math.Sqrt(free)
		if e.N == 3 {
			if !before[0].Has || !before[1].Has {
				return -1, 0, false
			}
			belongs = -r.withoutOff(i, before)
		}
		if belongs > worst {
			best, worst, off = i, belongs, r.Scale.V*d
		}
	}
	return best, off, best >= 0
}

// withoutOff is how far both ends lie from before by the line through the two stations other than i of three, dial mm.
func (r Run) withoutOff(i int, before [2]Value) float64 {
	a, b := (i+1)%3, (i+2)%3
	slope := (r.Readings[b] - r.Readings[a]) / (r.Stations[b] - r.Stations[a])
	at := func(x float64) float64 { return r.Readings[a] + slope*(x-r.Stations[a]) }
	return math.Abs(at(r.Stations[0])-before[0].V) + math.Abs(at(r.Stations[2])-before[1].V)
}
