package outside

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
)

// answer is what a careful person types at a field, seeing and measuring the world as it is.
// A question that this world does not know is an error that names it, so that a new reading of
// the walk is not answered by chance.
func (w *World) answer(st *fold.State, a fold.Ask) (string, error) {
	of, x, y := placeOf(a)
	if err := sameAsWords(a, of, x, y); err != nil {
		return "", err
	}
	switch a.What.By {
	case "probe":
		return w.probed(a, of, x, y)
	case "touch":
		return length(w.round(w.probe + w.Sizes["probe-length"]*w.pure("probe-length"))), nil
	case "hygrometer":
		return fmt.Sprintf("%.0f", w.humidity()+w.even("hygrometer")), nil
	case "micrometer":
		if axis, ok := strings.CutPrefix(a.What.Dir, "again-"); ok {
			return length(math.Round(1e3*w.width(axis)) / 1e3), nil
		}
	case "thermometer":
		return fmt.Sprintf("%.1fC", w.thermometer(of)), nil
	case "dial":
		return w.dialled(a, of, x, y)
	case "feeler":
		return w.felt(a), nil
	}
	switch {
	case of == "air" && w.job.Part.Grain == "": // nobody reads it here
		return a.Options[len(a.Options)-1], nil
	case of == "offset" && a.What.Axis != "z0":
		return length(map[string]float64{"x": w.keyed.X, "y": w.keyed.Y, "z": w.keyed.Z}[a.What.Axis]), nil
	case strings.HasPrefix(of, "tool/") && a.What.Dir == "length":
		n, err := strconv.Atoi(strings.TrimPrefix(of, "tool/"))
		return length(w.typed(n)), err
	case strings.HasPrefix(of, "tool/") && a.What.Dir == "gap":
		n, err := strconv.Atoi(strings.TrimPrefix(of, "tool/"))
		if a.What.By == "block" {
			return length(math.Round(100*w.gap(n, x, y)) / 100), err
		}
		return length(math.Round(2*w.gap(n, x, y)) / 2), err
	case of == "dial" && a.What.Dir == "lever": // a plain lever at an angle reads too large by 1/cos; judged by eye to 5 degrees
		return fmt.Sprintf("%.0fdeg", 5*math.Round(math.Acos(1/math.Abs(w.gain))*180/math.Pi/5)), nil
	case a.What.By == "spring balance" && a.Window != nil: // drawn as far as the page says
		return fmt.Sprintf("%.1f N", a.Window.Want), nil
	case of == "threads" && a.What.Dir == "turns":
		return "13", nil
	case of == "fixture-bolts" && a.Want == "":
		return "4", nil
	case of == "shift-page" && a.What.Dir == "raise":
		w.raise = a.Do[0].Amount
		return length(w.raise), nil
	case of == "program/pass" && a.What.Dir == "z":
		w.pass = a.Window.Want
		return length(w.pass), nil
	case of == "rotation-page" || of == "shift-page":
		return "0", nil
	}
	return expected(a)
}

// placeOf is the thing that is asked about and where on it.
func placeOf(a fold.Ask) (of string, x, y float64) {
	of, at, _ := strings.Cut(a.What.Of, "@")
	x, y = places(at)
	return of, x, y
}

// expected is the answer where the world is as it should be: the one wanted, the first choice, the value
// that the page prints beside it.
func expected(a fold.Ask) (string, error) {
	switch {
	case a.Want != "":
		return a.Want, nil
	case len(a.Options) > 0:
		return a.Options[0], nil
	case a.Window != nil && strings.Contains(a.What.Dir, "torque"):
		return fmt.Sprintf("%.1f mNm", a.Window.Want), nil
	case a.Window != nil && a.What.By != "" && fmt.Sprint(a.Unit) == "a length":
		return length(a.Window.Want), nil
	case a.Kind == fold.Count:
		return "0", nil
	}
	return "", fmt.Errorf("field %s (%+v, %q): this world has no answer; teach it one in answer.go", a.Field, a.What, a.Label)
}

func (w *World) probed(a fold.Ask, of string, x, y float64) (string, error) {
	angle, isAngle := strconv.ParseFloat(a.What.Dir, 64)
	axis := func(v Vec) string { return length(map[string]float64{"x": v.X, "y": v.Y, "z": v.Z}[a.What.Axis]) }
	m := w.job.Fixture.AsMade
	switch {
	case of == "bore" && isAngle == nil:
		return axis(w.hit(a, jobs.Point{}, m.Bore.Dia, angle)), nil
	case of == "bore2" && isAngle == nil:
		d := m.Bore2.Dia
		if d == 0 {
			d = m.Bore.Dia
		}
		return axis(w.hit(a, m.Bore2.At, d, angle)), nil
	case of == "floor":
		return length(w.down(w.floorAt(x, y), w.probe)), nil
	case of == "rim":
		return length(w.down(w.rimAt(x, y), w.probe)), nil
	case strings.HasPrefix(of, "skimmed/"): // where the tip went, not where the top was
		n, err := strconv.Atoi(strings.TrimPrefix(of, "skimmed/"))
		return length(w.down(w.tip(n, x, y, w.pass+w.raise), w.probe)), err
	case of == "part-top":
		return length(w.down(w.topAt(x, y), w.probe)), nil
	case strings.HasPrefix(of, "part-"):
		side := map[string]string{"left": "left", "right": "right", "front": "toward", "rear": "away"}[strings.TrimPrefix(of, "part-")]
		return axis(w.face(side, x)), nil
	}
	return "", fmt.Errorf("field %s: this world has nothing to be probed that is %+v (%q)", a.Field, a.What, a.Label)
}

// hit is one hit of a bore; both its coordinates are those of one touch.
func (w *World) hit(a fold.Ask, at jobs.Point, dia, angle float64) Vec {
	name, _, both := strings.Cut(a.Field, ".")
	if both && w.lastHit.name == name && a.What.Axis == "y" {
		return w.lastHit.at
	}
	v := w.bore(at, dia, angle*math.Pi/180)
	w.lastHit.name, w.lastHit.at = name, v
	return v
}

func (w *World) thermometer(of string) float64 {
	wrong := w.even("thermometer")
	if of == "part" {
		return w.partWarm + wrong
	}
	return w.warm + wrong
}

func (w *World) dialled(a fold.Ask, of string, x, y float64) (string, error) {
	switch {
	case of == "edge" && a.What.Dir == "zeroed":
		return length(w.dial(w.edge(x, 0) - w.edge(w.low, 0))), nil
	case of == "edge":
		jog := 0.0
		if s, ok := strings.CutPrefix(a.What.Dir, "jog"); ok {
			jog, _ = strconv.ParseFloat(s, 64)
		}
		if a.Field == "jog0" || w.zero == 0 {
			w.zero = w.edge(x, 0) - 0.01*w.pure("dial zero")
		}
		return length(w.dial(w.edge(x, jog) - w.zero)), nil
	case strings.HasPrefix(of, "tool/"):
		return length(w.dial(0.004)), nil
	case of == "part":
		return w.watched(a), nil
	case strings.HasPrefix(of, "post/"):
		return w.onPost(a, strings.TrimPrefix(of, "post/"), x, y)
	}
	return "", fmt.Errorf("field %s: this world has nothing for a dial that is %+v (%q)", a.Field, a.What, a.Label)
}

// watched is what a dial on the part shows while it is strapped or screwed: the move that the screws make, by
// thirds, at the end farthest from the first screw.
func (w *World) watched(a fold.Ask) string {
	if !strings.HasPrefix(a.What.Dir, "screw") || a.What.Axis == "z" {
		return length(0)
	}
	n, _ := strconv.Atoi(a.What.Dir[strings.LastIndexByte(a.What.Dir, '-')+1:])
	was, is := w.swap, w.moveOfScrews()
	l := w.job.Part.Size
	p := w.seat.Of(w.solid(Vec{l[0], l[1] / 2, l[2]}))
	d := is.Of(p).minus(was.Of(p)).times(float64(n) / 3)
	if a.What.Axis == "x" {
		return length(w.dial(d.X))
	}
	return length(w.dial(d.Y))
}

// felt counts the strips of 0.02 that pull out: none where the part touches.
func (w *World) felt(a fold.Ask) string {
	where := a.What.Dir
	n := 0
	if w.gaps[where] > 0.02 {
		n = 1
	}
	return strconv.Itoa(n)
}

func places(s string) (x, y float64) {
	a, b, _ := strings.Cut(s, ",")
	x, _ = strconv.ParseFloat(a, 64)
	y, _ = strconv.ParseFloat(b, 64)
	return x, y
}

var (
	ofTheBore = regexp.MustCompile(`([0-9.]+) (right|left), ([0-9.]+) (away|toward you) of the bore`)
	ofTheZero = regexp.MustCompile(`W X ([+-][0-9.]+)(?: Y ([+-][0-9.]+))?`)
)

// sameAsWords holds the place by which this world is asked against the words by which the person
// is: whoever reads the screen must touch there.
func sameAsWords(a fold.Ask, of string, x, y float64) error {
	var sx, sy float64
	if m := ofTheBore.FindStringSubmatch(a.Label); m != nil {
		sx, sy = number(m[1]), number(m[3])
		if m[2] == "left" {
			sx = -sx
		}
		if m[4] == "toward you" {
			sy = -sy
		}
	} else if m := ofTheZero.FindStringSubmatch(a.Label); m != nil && of == "part-top" {
		sx, sy = number(m[1]), number(m[2])
	} else {
		return nil
	}
	if math.Abs(x-sx) > 0.06 || math.Abs(y-sy) > 0.06 {
		return fmt.Errorf("field %s: the screen says %q and the reading is taken at %g, %g", a.Field, a.Label, x, y)
	}
	return nil
}

func number(s string) float64 { x, _ := strconv.ParseFloat(s, 64); return x }

// length is how a length is typed.
func length(x float64) string { return strconv.FormatFloat(math.Round(1e4*x)/1e4, 'f', -1, 64) + "mm" }
