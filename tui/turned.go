package tui

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"fliptrue/steps/fold"
	"fliptrue/tui/canvas"
)

// turn is what a run says that the fixture is turned by, counter-clockwise in rad. The advice
// tells the side: the end to be tapped lies where it is not tapped to.
func turn(r *fold.RunPlot) float64 {
	n := len(r.At)
	if n < 2 || r.At[n-1] == r.At[0] {
		return 0
	}
	t := r.Tap / (r.At[n-1] - r.At[0])
	if r.TapDir == "AWAY" || r.TapDir == "LEFT" {
		t = -t
	}
	return t
}

// magnified is how many times larger than it is a measured turn is drawn, one of a few
// round factors, so that it can be seen; 1 where none is.
func (a artist) magnified(sc fold.Scene) int {
	if sc.Run == nil || len(sc.Shapes) == 0 {
		return 1
	}
	by := math.Abs(turn(sc.Run))
	if !(by > 0) || !a.taps(sc.Run) {
		return 1
	}
	const most = 6 * math.Pi / 180
	out := 1
	for _, n := range []int{2, 5, 10, 20, 50, 100, 200, 500, 1000} {
		if by*float64(n) <= most {
			out = n
		}
	}
	return out
}

// turned are shapes turned about the bore, from which all places are counted.
func turned(shapes []fold.Shape, by float64) []fold.Shape {
	cos, sin := math.Cos(by), math.Sin(by)
	out := make([]fold.Shape, len(shapes))
	for i, s := range shapes {
		s.Points = slices.Clone(s.Points)
		for j, p := range s.Points {
			s.Points[j].X, s.Points[j].Y = p.X*cos-p.Y*sin, p.X*sin+p.Y*cos
		}
		out[i] = s
	}
	return out
}

// ghost is the fixture as it would lie without a turn.
func (a artist) ghost(c *canvas.Canvas, shapes []fold.Shape) {
	for _, s := range shapes {
		if s.Role == fold.RoleFixture {
			c.Polyline(pointsOf(s), s.Closed, Pen(Rule))
		}
	}
}

// taps says that a tap is advised: the run does not stand and the amount can be seen.
func (a artist) taps(r *fold.RunPlot) bool {
	return r != nil && r.TapEnd != "" && a.judged && strings.ContainsAny(a.mm(r.Tap), "123456789")
}

// tapArrow is where the end of the edge that is to be tapped lies, and where it is tapped to, so
// long; ok is false where no tap is advised.
func (a artist) tapArrow(r *fold.RunPlot, shapes []fold.Shape, long float64) (from, to canvas.Point, ok bool) {
	if !a.taps(r) {
		return from, to, false
	}
	ways := map[string]canvas.Point{"AWAY": {Y: 1}, "FAR": {Y: 1}, "TOWARD YOU": {Y: -1}, "NEAR": {Y: -1}, "LEFT": {X: -1}, "RIGHT": {X: 1}}
	way, ok1 := ways[r.TapDir]
	end, ok2 := ways[r.TapEnd]
	i := slices.IndexFunc(shapes, func(s fold.Shape) bool { return s.Role == fold.RoleEdge && len(s.Points) > 1 })
	if !ok1 || !ok2 || i < 0 {
		return from, to, false
	}
	from = slices.MaxFunc(pointsOf(shapes[i]), func(p, q canvas.Point) int {
		return cmp.Compare(p.X*end.X+p.Y*end.Y, q.X*end.X+q.Y*end.Y)
	})
	return from, canvas.Point{X: from.X + way.X*long, Y: from.Y + way.Y*long}, true
}
