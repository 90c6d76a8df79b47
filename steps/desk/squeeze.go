package desk

import (
	"fmt"
	"math"

	"fliptrue/calc/hold"
	grip "fliptrue/calc/jaws"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// Squeezed says of jaws that grip the part by its outer walls what they need against the planned cut, and what the walls take
// before they bow by jaws.WallShare of the allowance. The wall counts as a plate that rests on all its edges: open at the
// top it bows more, so what is said to be too much is.
func Squeezed(p *fold.Plan) string {
	cut, why := Heaviest(p)
	if why != "" {
		return why
	}
	wall := 0.0
	for _, s := range p.Job.Setups {
		wall = math.Max(wall, math.Max(s.Inspect.Wall[0], s.Vise.Wall))
	}
	part, err := p.Job.Library().Like(p.Job.Part.Material)
	switch {
	case err != nil:
		return err.Error()
	case wall == 0:
		return "no wall thickness in the job; give inspect.wall"
	case !part.Stiffness.Known():
		return fmt.Sprintf("no stiffness of %s is known; give materials.%s.e with its source", part.Name, part.Name)
	}
	load, err := cut.Load()
	if err != nil {
		return err.Error()
	}
	l, h := math.Max(p.Job.Part.Size[0], p.Job.Part.Size[1]), p.Job.Part.Size[2]
	one, err := hold.Plate{Long: unit.Length(math.Max(l, h)), Short: unit.Length(math.Min(l, h)), Thick: unit.Length(wall),
		E: unit.Stress(part.Stiffness.Low)}.Pressed(1)
	if err != nil {
		return err.Error()
	}
	allowed := grip.WallShare * float64(p.Job.Allowance) / float64(one.Bow) * l * h
	g, err := grip.ToGrip(unit.Force(cut.Corner*float64(load.Fh)), friction(p).Low, unit.Force(allowed))
	if err != nil {
		return err.Error()
	}
	says := "more than its wall takes: plug the cavity, or do not grip it"
	if g.Gentle {
		says = "that the wall takes"
	}
	return fmt.Sprintf("grip of %s, %s (%s)", newtons(p, float64(g.Needed)), says, newtons(p, allowed))
}
