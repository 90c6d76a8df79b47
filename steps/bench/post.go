package bench

import (
	"fmt"
	"strings"

	"fliptrue/steps/fold"
)

// A dial on a post that is clamped to the fixture stands there from when it was set to zero; what moves
// fixture and part together it does not see.

// onPost is how far a face of the part has come toward the dial that watches it there.
func (w *World) onPost(a fold.Ask, face, at string) (v, step float64, err error) {
	stood, err := w.beforePost(face, at)
	if err != nil {
		return 0, 0, err
	}
	zero, set := w.hand.posts[a.What.Of]
	if !set {
		if w.hand.posts == nil {
			w.hand.posts = map[string]float64{}
		}
		zero = stood
		w.hand.posts[a.What.Of] = zero
	}
	step = w.Effects.DialRound
	v = stood - zero
	if step > 0 {
		v += w.gauss(0.1 * step)
	}
	return roundTo(v, step), step, nil
}

// zeroPosts sets the dials of that list to zero as they stand.
func (w *World) zeroPosts(list string) error {
	w.hand.posts = map[string]float64{}
	for _, of := range strings.Fields(list) {
		what, at, _ := strings.Cut(of, "@")
		face, _ := postOf(what)
		stood, err := w.beforePost(face, at)
		if err != nil {
			return err
		}
		w.hand.posts[of] = stood
	}
	return nil
}

// beforePost is how far out a face stands at a place, along its outward normal, against the fixture.
func (w *World) beforePost(face, at string) (float64, error) {
	p, err := place(at)
	if err != nil {
		return 0, err
	}
	if face == "part-top" {
		c := w.card.AsMade.PartZero
		return w.partTop(p) - w.floor.at(p.add(xy{c.X, c.Y})), nil
	}
	out := map[string]xy{"part-left": {-1, 0}, "part-right": {1, 0}, "part-front": {0, -1}, "part-rear": {0, 1}}
	dir, ok := out[face]
	if !ok {
		return 0, fmt.Errorf("bench: no post stands before %q", face)
	}
	on := map[string]xy{"part-left": {0, p.x}, "part-right": {w.size.x, p.x}, "part-front": {p.x, 0}, "part-rear": {p.x, w.size.y}}[face]
	c := w.card.AsMade.PartZero
	return w.onPart(on).sub(w.onFixture(on.add(xy{c.X, c.Y}))).dot(dir), nil
}

// postOf is the face that a post's dial is on.
func postOf(of string) (face string, ok bool) { return strings.CutPrefix(of, "post/") }
