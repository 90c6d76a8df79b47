package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"fliptrue/calc/budget"
	"fliptrue/calc/fit"
	"fliptrue/calc/unit"
	"fliptrue/jobs"

	"github.com/spf13/cobra"
)

// fitOptions are the flags of fit, lengths as typed.
type fitOptions struct {
	shape          string
	file           string // "-" or "" is standard input
	unit           string
	asJSON         bool
	ball, radius   string
	repeat         string
	bore, boss     bool
	orthogonal     bool
	throughOrigin  bool
	sys            unit.System
	ballD, radiusR float64 // mm
	repeatS        float64
}

// shapes are what fit can fit, with the columns of a row.
var shapes = []struct {
	name    string
	short   string
	columns []column
	fit     func(fitOptions, table) (fitted, error)
}{
	{"line", "straight line through rows of x y", lengths("x", "y"), fitLine},
	{"circle", "circle through rows of x y", lengths("x", "y"), fitCircle},
	{"plane", "plane through rows of x y z", lengths("x", "y", "z"), fitPlane},
	{"corner", "corner from rows of x y face; face is the way the probe moved: x+ x- y+ y-",
		append(lengths("x", "y"), column{name: "face", words: []string{"x+", "x-", "y+", "y-"}}), fitCorner},
	{"sweep", "lean from rows of angle_deg reading; 0 deg is X+, counter-clockwise; a higher surface reads +",
		[]column{{name: "angle_deg", kind: unit.KAngle}, {name: "reading", kind: unit.KLength}}, fitSweep},
}

// fitExamples are rows as a person would type them, and the command for them.
var fitExamples = map[string]string{
	"line": "  fliptrue fit line edge.txt\n\n  # edge.txt: along the edge, dial\n  0    0.000\n  40   0.012\n  80   0.021\n  120  0.033",
	"circle": "  fliptrue fit circle bore.txt --ball 2 --bore --repeat 0.001\n\n  # bore.txt: ball centres\n  53.022 30.007\n  50.012 " +
		"33.016\n  47.003 30.007\n  50.012 26.998",
	"plane": "  fliptrue fit plane floor.txt\n\n  # floor.txt: X Y Z\n  8  8  2.021\n  88 8  2.013\n  88 56 2.005\n  8  56 2.014",
	"corner": "  fliptrue fit corner stock.txt --ball 2\n\n  # stock.txt: ball centre, way the probe moved\n  -1.000 10 x+\n  -0.930 " +
		"50 x+\n " +
		" 10 -1.010 y+\n  70 -0.920 y+",
	"sweep": "  fliptrue fit sweep tram.txt --radius 60\n\n  # tram.txt: degrees, dial\n  0   0.030\n  90  0.008\n  180 -0.018\n  270 0.000",
}

func lengths(names ...string) []column {
	out := make([]column, len(names))
	for i, n := range names {
		out[i] = column{name: n, kind: unit.KLength}
	}
	return out
}

func fitCommand(r *runner) *cobra.Command {
	parent := &cobra.Command{
		Use: "fit line|circle|plane|corner|sweep [FILE|-]", Short: "Fit a shape to rows of readings",
		Long: "Fits a shape to rows of readings from a file or standard input. Values are separated by\nblanks, tabs or commas; what follows a " +
			"# is a comment. A value may carry its own unit.",
		RunE: func(c *cobra.Command, args []string) error {
			if len(args) == 0 {
				return r.do(exitUsage, &usageError{"fit wants a shape", "one of line circle plane corner sweep"})
			}
			return r.do(exitUsage, &usageError{"unknown shape " + quoted(args[0]), "one of line circle plane corner sweep"})
		},
	}
	for _, s := range shapes {
		var o fitOptions
		o.shape = s.name
		c := &cobra.Command{
			Use: s.name + " [FILE|-]", Short: "Fit a " + s.short, Example: fitExamples[s.name],
			Args: func(c *cobra.Command, args []string) error {
				if len(args) > 1 {
					return &usageError{quoted(args[1]) + " is more than one file", "name one file, or - for standard input"}
				}
				return nil
			},
			RunE: func(_ *cobra.Command, args []string) error {
				if len(args) > 0 {
					o.file = args[0]
				}
				return r.do(runFit(r.env, o))
			},
		}
		f := c.Flags()
		f.BoolVar(&o.asJSON, "json", false, "print JSON")
		f.StringVar(&o.unit, "unit", "mm", "unit of bare numbers and of the result: mm or in")
		switch s.name {
		case "line":
			f.BoolVar(&o.orthogonal, "orthogonal", false, "both coordinates carry error: least distances square to the line")
			f.BoolVar(&o.throughOrigin, "through-origin", false, "the line goes through the origin")
		case "circle":
			f.StringVar(&o.ball, "ball", "", "effective diameter of the ball, to give the diameter of the bore or boss")
			f.BoolVar(&o.bore, "bore", false, "the ball was inside")
			f.BoolVar(&o.boss, "boss", false, "the ball was outside")
			f.StringVar(&o.repeat, "repeat", "", "known standard deviation of one hit; without it the hits alone speak")
		case "corner":
			f.StringVar(&o.ball, "ball", "", "effective diameter of the ball (required; 0 for surface points)")
		case "sweep":
			f.StringVar(&o.radius, "radius", "", "radius of the sweep (required)")
		}
		parent.AddCommand(c)
	}
	return parent
}

// fitted is a shape with what is said of it.
type fitted struct {
	json      any
	text      []string
	residuals []float64 // one a row, mm; nil when there is no picture
	mark      int       // row to mark in the picture, from 0; -1 for none
}

// runFit reads rows, fits and prints.
func runFit(e *env, o fitOptions) (exit, error) {
	if err := o.understand(); err != nil {
		return exitUsage, err
	}
	name := o.file
	var data []byte
	var err error
	if o.file == "" || o.file == "-" {
		name = "standard input"
		data, err = io.ReadAll(io.LimitReader(e.in, maxRows+1))
		if len(data) > maxRows {
			err = jobs.ErrTooBig
		}
	} else {
		data, err = e.disk.Read(o.file, maxRows)
	}
	if err != nil {
		return exitInput, &inputError{name, "cannot be read: " + plainError(err), "name a file of rows, or - for standard input"}
	}
	for _, s := range shapes {
		if s.name != o.shape {
			continue
		}
		t, faults := readRows(name, data, s.columns, o.sys)
		if len(faults) > 0 {
			return exitInput, faults
		}
		f, err := s.fit(o, t)
		if err != nil {
			what, hint := splitHint(err.Error())
			return exitInput, &inputError{name, what, hint}
		}
		if o.asJSON {
			e.json(f.json)
			return exitOK, nil
		}
		fmt.Fprintln(e.out, strings.Join(f.text, "\n"))
		if e.outTerminal && f.residuals != nil {
			fmt.Fprint(e.out, "\n"+residualPicture(f.residuals, f.mark, o.sys))
		}
		return exitOK, nil
	}
	panic("fliptrue: no shape " + o.shape)
}

// understand checks the flags together and reads their numbers.
func (o *fitOptions) understand() error {
	switch o.unit {
	case "mm", "":
		o.sys = unit.Metric
	case "in":
		o.sys = unit.Imperial
	default:
		return &usageError{"unit " + quoted(o.unit) + " is not known", "write --unit mm or --unit in"}
	}
	for _, x := range []struct {
		flag, text string
		to         *float64
		zero       bool
	}{{"--ball", o.ball, &o.ballD, o.shape == "corner"}, {"--radius", o.radius, &o.radiusR, false},
		{"--repeat", o.repeat, &o.repeatS, false}} {
		if x.text == "" {
			continue
		}
		n, err := unit.Parse(x.text, unit.KLength, o.sys)
		if err != nil {
			what, hint := splitHint(err.Error())
			return &usageError{x.flag + " " + what, hint}
		}
		if n.Value < 0 || n.Value == 0 && !x.zero {
			return &usageError{x.flag + " " + quoted(x.text) + " is not above 0", "give a length"}
		}
		*x.to = n.Value
	}
	switch {
	case o.bore && o.boss:
		return &usageError{"both --bore and --boss", "keep the one that says where the ball was"}
	case o.shape == "circle" && o.ball != "" && !o.bore && !o.boss:
		return &usageError{"--ball without --bore or --boss", "say where the ball was: the radius is added in a bore, taken off on a boss"}
	case o.shape == "circle" && o.ball == "" && (o.bore || o.boss):
		return &usageError{"--bore or --boss without --ball", "give the ball's effective diameter with --ball D"}
	case o.orthogonal && o.throughOrigin:
		return &usageError{"both --orthogonal and --through-origin", "keep one"}
	case o.shape == "corner" && o.ball == "":
		return &usageError{"corner wants --ball D", "the ball's effective diameter; 0 when the rows are points of the surface"}
	case o.shape == "sweep" && o.radius == "":
		return &usageError{"sweep wants --radius R", "the radius on which the dial went round"}
	}
	return nil
}

// per is a length in the unit of the result.
func (o fitOptions) per(mm float64) float64 {
	if o.sys == unit.Imperial {
		return mm / float64(unit.Inch)
	}
	return mm
}

// maybe is a length that may not exist, in the unit of the result.
func (o fitOptions) maybe(v fit.Value) *float64 {
	if !v.Has {
		return nil
	}
	x := o.per(v.V)
	return finite(x)
}

// ratio is a value without a unit of length that may not exist.
func ratio(v fit.Value) *float64 {
	if !v.Has {
		return nil
	}
	return finite(v.V)
}

// finite is a number for JSON, which has no NaN and no infinity.
func finite(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

func degrees(rad float64) float64 { return rad * 180 / math.Pi }

// say prints a length with its unit, one digit finer than a readout: a fit knows more.
func (o fitOptions) say(mm float64) string {
	return unit.Show(mm, unit.KLength, o.sys, unit.Step(unit.KLength, o.sys)/10)
}

func (o fitOptions) sayMaybe(v fit.Value) string {
	if !v.Has {
		return unit.None + " (no redundancy)"
	}
	return o.say(v.V)
}

func points(t table) []fit.Point {
	ps := make([]fit.Point, len(t.rows))
	for i, r := range t.rows {
		ps[i] = fit.Point{X: r[0], Y: r[1]}
	}
	return ps
}

// lineJSON is a fitted line. Lengths in --unit; slope is rise over run.
type lineJSON struct {
	Intercept    *float64 `json:"intercept"` // null for a line along Y
	Slope        *float64 `json:"slope"`     // null for a line along Y
	UIntercept   *float64 `json:"u_intercept"`
	USlope       *float64 `json:"u_slope"`
	R            *float64 `json:"r"`           // correlation
	S            *float64 `json:"s"`           // residual standard deviation
	Dof          int      `json:"dof"`         // its degrees of freedom
	U95Slope     *float64 `json:"u95_slope"`   // half-width of the 95 % interval, t times u
	UAngleDeg    *float64 `json:"u_angle_deg"` // with --orthogonal
	U95AngleDeg  *float64 `json:"u95_angle_deg"`
	Straightness *float64 `json:"straightness"` // largest minus smallest residual
	AngleDeg     float64  `json:"angle_deg"`    // from X+, counter-clockwise
}

// t95 is the factor that makes a standard uncertainty of so many degrees of freedom the
// half-width of an interval of 95 %.
func t95(dof float64) float64 { return budget.TQuantile(0.975, dof) }

// dofWords are degrees of freedom as printed: without end for what is taken as known.
func dofWords(dof float64) string {
	if math.IsInf(dof, 1) {
		return "taken as known"
	}
	return fmt.Sprintf("%g dof", dof)
}

func fitLine(o fitOptions, t table) (fitted, error) {
	ps := points(t)
	var j lineJSON
	var residuals []float64
	var s, straight fit.Value
	how := "y on x"
	if o.orthogonal {
		l, err := fit.ToOrthogonal(ps)
		if err != nil {
			return fitted{}, err
		}
		j.Intercept, j.Slope = o.maybe(l.Intercept), ratio(l.Slope)
		j.AngleDeg, j.Dof, residuals, s, straight = degrees(l.Angle), l.DOF, l.Residuals, l.S, l.Straightness
		if l.UAngle.Has {
			j.UAngleDeg, j.U95AngleDeg = finite(degrees(l.UAngle.V)), finite(degrees(l.UAngle.V)*t95(float64(l.DOF)))
		}
		how = "square to the line"
	} else {
		to := fit.ToLine
		if o.throughOrigin {
			to, how = fit.ToOrigin, "y on x through the origin"
		}
		l, err := to(ps)
		if err != nil {
			return fitted{}, err
		}
		j.Intercept, j.Slope = finite(o.per(l.Intercept)), finite(l.Slope)
		j.UIntercept, j.USlope, j.R = o.maybe(l.UIntercept), ratio(l.USlope), ratio(l.R)
		j.AngleDeg, j.Dof, residuals, s, straight = degrees(math.Atan(l.Slope)), l.DOF, l.Residuals, l.S, l.Straightness
		if l.USlope.Has {
			j.U95Slope = finite(l.USlope.V * t95(float64(l.DOF)))
		}
	}
	j.S, j.Straightness = o.maybe(s), o.maybe(straight)
	text := []string{fmt.Sprintf("line       %d points, %s", len(ps), how)}
	if j.Slope != nil {
		text = append(text, "slope      "+unit.Show(*j.Slope, unit.KSlope, o.sys, 0)+fmt.Sprintf(", angle %.4f deg", j.AngleDeg))
		if !o.throughOrigin {
			text = append(text, "intercept  "+o.say(*j.Intercept/o.per(1)))
		}
	} else {
		text = append(text, fmt.Sprintf("angle      %.4f deg: along Y, without slope and intercept", j.AngleDeg))
	}
	if j.USlope != nil {
		text = append(text, fmt.Sprintf("u(slope)   %s, %s, U %s (95 %%)", unit.Show(*j.USlope, unit.KSlope, o.sys, 1e-8),
			dofWords(float64(j.Dof)), unit.Show(*j.U95Slope, unit.KSlope, o.sys, 1e-8)))
	}
	if j.UAngleDeg != nil {
		text = append(text, fmt.Sprintf("u(angle)   %.4f deg, %s, U %.4f deg (95 %%)", *j.UAngleDeg, dofWords(float64(j.Dof)), *j.U95AngleDeg))
	}
	text = append(text, "scatter    "+o.sayMaybe(s), "straight   "+o.sayMaybe(straight))
	return fitted{j, text, residuals, -1}, nil
}

// circleJSON is a fitted circle. Lengths in --unit.
type circleJSON struct {
	Center           [2]float64 `json:"center"`
	Radius           float64    `json:"radius"`   // of the points as given
	Diameter         *float64   `json:"diameter"` // of the bore or boss, with --ball
	RMS              float64    `json:"rms"`
	S                *float64   `json:"s"`
	UCenter          *float64   `json:"u_center"` // larger principal standard uncertainty
	Dof              *float64   `json:"dof"`      // of u_center; null where the scatter is taken as known
	U95Center        *float64   `json:"u95_center"`
	ArcDeg           float64    `json:"arc_deg"` // 360 less the largest gap
	Suspect          *int       `json:"suspect"` // data row, from 1
	SuspectDeviation *float64   `json:"suspect_deviation"`
}

// maxNamed is how many hits are looked through for a bad one: each is left out in turn.
const maxNamed = 1000

func fitCircle(o fitOptions, t table) (fitted, error) {
	ps := points(t)
	side := fit.Bore
	if o.boss {
		side = fit.Boss
	}
	var probe budget.Spread
	if o.repeatS > 0 {
		probe = budget.Spread{S: o.repeatS, Dof: math.Inf(1)}
	}
	var hn fit.HitNaming
	var err error
	if len(ps) <= maxNamed {
		hn, err = fit.NameHit(ps, side, probe)
	} else {
		hn.All, err = fit.ToCircle(ps)
	}
	if err != nil {
		return fitted{}, err
	}
	c := hn.All
	j := circleJSON{Center: [2]float64{o.per(c.Center.X), o.per(c.Center.Y)}, Radius: o.per(c.Radius), RMS: o.per(c.RMS),
		S: o.maybe(c.S), ArcDeg: degrees(c.Arc)}
	text := []string{
		fmt.Sprintf("circle     %d hits over %.1f deg", len(ps), j.ArcDeg),
		"centre     X " + o.say(c.Center.X) + "  Y " + o.say(c.Center.Y),
		"radius     " + o.say(c.Radius) + " of the points as given",
	}
	if o.ballD > 0 {
		d := side.Diameter(c, o.ballD/2)
		j.Diameter = finite(o.per(d))
		text = append(text, "diameter   "+o.say(d)+map[fit.Feature]string{fit.Bore: " of the bore", fit.Boss: " of the boss"}[side])
	}
	text = append(text, "scatter    "+o.sayMaybe(c.S), "u(centre)  "+o.centre(c, probe, &j))
	f := fitted{text: text, residuals: c.Residuals, mark: -1}
	switch hn.Verdict {
	case fit.Named:
		row := hn.Index + 1
		j.Suspect, j.SuspectDeviation = &row, finite(o.per(hn.Deviation))
		long := "short"
		if hn.Deviation > 0 {
			long = "long"
		}
		f.mark = hn.Index
		f.text = append(f.text, fmt.Sprintf("suspect    row %d (line %d): %s %s at %.0f deg; it moves the centre by %s. Take it again.",
			row, t.lines[hn.Index], o.say(math.Abs(hn.Deviation)), long, math.Mod(degrees(hn.Angle)+360, 360), o.say(hn.Shift)))
	case fit.Unnamed:
		f.text = append(f.text, "suspect    one hit is bad and it cannot be said which: wipe and take all again")
	}
	f.json = j
	return f, nil
}

// centre finds the uncertainty of a centre by the scatter to work with: the one given with
// --repeat, of which that of the hits is a check at 1 %; that of the hits, with its few
// degrees of freedom, when it is larger beyond chance or none was given.
func (o fitOptions) centre(c fit.Circle, given budget.Spread, j *circleJSON) string {
	var hits budget.Spread
	if c.S.Has {
		hits = budget.Spread{S: c.S.V, Dof: float64(c.DOF)}
	}
	s, worse := budget.Repeat(hits, given)
	if s.Dof == 0 {
		return o.sayMaybe(fit.Value{})
	}
	u := c.UCenterFor(s.S)
	whole := u * t95(s.Dof)
	j.UCenter, j.U95Center, j.Dof = finite(o.per(u)), finite(o.per(whole)), finite(s.Dof)
	words := fmt.Sprintf("%s, %s, U %s (95 %%)", o.say(u), dofWords(s.Dof), o.say(whole))
	if worse {
		words += "; the hits scatter more than --repeat says, so their own scatter is used"
	}
	return words
}

// planeJSON is z = a + b·x + c·y. Lengths in --unit.
type planeJSON struct {
	A     float64  `json:"a"`
	B     float64  `json:"b"`
	C     float64  `json:"c"`
	S     *float64 `json:"s"`
	Range *float64 `json:"range"` // largest minus smallest residual
}

func fitPlane(o fitOptions, t table) (fitted, error) {
	ps := make([]fit.Point3, len(t.rows))
	for i, r := range t.rows {
		ps[i] = fit.Point3{X: r[0], Y: r[1], Z: r[2]}
	}
	p, err := fit.ToPlane(ps)
	if err != nil {
		return fitted{}, err
	}
	j := planeJSON{o.per(p.A), p.B, p.C, o.maybe(p.S), o.maybe(p.Range)}
	text := []string{
		fmt.Sprintf("plane      %d points", len(ps)),
		"tilt       X " + unit.Show(p.B, unit.KSlope, o.sys, 0) + "  Y " + unit.Show(p.C, unit.KSlope, o.sys, 0),
		"height     " + o.say(p.A) + " at X 0 Y 0",
		"scatter    " + o.sayMaybe(p.S),
		"range      " + o.sayMaybe(p.Range),
	}
	return fitted{j, text, p.Residuals, -1}, nil
}

// cornerJSON is where two faces meet. Lengths in --unit.
type cornerJSON struct {
	Corner      [2]float64 `json:"corner"`
	SkewDeg     float64    `json:"skew_deg"` // of the face probed along Y against X, counter-clockwise
	InteriorDeg float64    `json:"interior_deg"`
}

func fitCorner(o fitOptions, t table) (fitted, error) {
	hits := make([]fit.FaceHit, len(t.rows))
	for i, r := range t.rows {
		hits[i] = fit.FaceHit{Point: fit.Point{X: r[0], Y: r[1]}, Moved: []fit.Direction{fit.XPlus, fit.XMinus, fit.YPlus, fit.YMinus}[int(r[2])]}
	}
	c, err := fit.ToCorner(hits, fit.EvenBall(o.ballD/2))
	if err != nil {
		return fitted{}, err
	}
	j := cornerJSON{[2]float64{o.per(c.At.X), o.per(c.At.Y)}, degrees(c.Skew), degrees(c.Interior)}
	text := []string{
		fmt.Sprintf("corner     X %s  Y %s", o.say(c.At.X), o.say(c.At.Y)),
		fmt.Sprintf("skew       %.4f deg of the face probed along Y", j.SkewDeg),
		fmt.Sprintf("interior   %.4f deg", j.InteriorDeg),
	}
	return fitted{j, text, nil, -1}, nil
}

// sweepJSON is the lean that a dial swept on a flat surface shows.
type sweepJSON struct {
	TiltX      float64  `json:"tilt_x_mrad"`
	TiltY      float64  `json:"tilt_y_mrad"`
	Redundancy *float64 `json:"redundancy"` // (0 + 180) - (90 + 270), in --unit; only of 4 even rows
}

func fitSweep(o fitOptions, t table) (fitted, error) {
	var angles, readings []float64
	for _, r := range t.rows {
		angles, readings = append(angles, r[0]), append(readings, r[1])
	}
	s, err := fit.ToSweep(angles, readings, o.radiusR)
	if err != nil {
		return fitted{}, err
	}
	j := sweepJSON{1000 * s.TiltX, 1000 * s.TiltY, o.maybe(s.Redundancy)}
	text := []string{
		fmt.Sprintf("sweep      %d readings on radius %s", len(angles), o.say(o.radiusR)),
		fmt.Sprintf("tilt       X %+.4f mrad  Y %+.4f mrad; + is higher at X+, Y+", j.TiltX, j.TiltY),
		"           X " + unit.Show(s.TiltX, unit.KSlope, o.sys, 0) + "  Y " + unit.Show(s.TiltY, unit.KSlope, o.sys, 0),
		"redundancy " + o.sayMaybe(s.Redundancy),
	}
	return fitted{j, text, s.Residuals, -1}, nil
}
