package desk

import (
	"fmt"
	"math"
	"slices"

	"fliptrue/calc/budget"
	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
)

// sideLines are lines of the budget that features of one side among themselves have too; all else comes with the turning over.
var sideLines = []string{"machine", "squareness", "cutter", "lead"}

// WhichFirst says which side to cut first and what each order costs, by the job's own numbers.
func WhichFirst(p *fold.Plan) []string {
	var out []string
	fs := AtDesk(p).AsJob
	if len(fs) > 0 {
		i, axis, v, g := kit.WorstFeature(fs)
		own := 0.0
		for _, l := range fs[i].Lines[axis] {
			if slices.Contains(sideLines, l.Name) {
				own += l.Std() * l.Std()
			}
		}
		out = append(out, fmt.Sprintf("Within one side places are known within %s, from side to side within %s (%s).",
			p.Len(budget.OneSided*math.Sqrt(own)), p.Len(v+g), fs[i].Name),
			"So all that has to fit each other, or a mate, goes on one side: bores, lip, faces that locate.")
	}
	out = append(out, "First the side with the faces and holes by which side 2 is located and held.")
	if p.Setup.HoldDown == "S" {
		out = append(out, "Here side 1 also makes the holes for the screws: they belong to what is cut first.")
	}
	floor, wall := 0.0, 0.0
	for _, s := range p.Job.Setups {
		floor, wall = math.Max(floor, s.Inspect.Floor[0]), math.Max(wall, math.Max(s.Inspect.Wall[0], s.Vise.Wall))
	}
	switch bow, push, why := floorBow(p, floor, wall); {
	case why != "":
		out = append(out, "What the thin floor gives under the cutter is not computed: "+why+".")
	default:
		thick := float64(p.Limit("skim.height").Max) // a fifth of what the thickness may be off
		word := "that is little: either order."
		if bow > thick {
			word = "cut the cavity last, or fill it and support it."
		}
		out = append(out, fmt.Sprintf("Cavity first leaves a floor of %s that gives %s under the cutter's %s: %s", p.Len(floor), p.Len(bow),
			newtons(p, push), word))
	}
	return append(out, "The side that shows goes last: it is not clamped on any more.",
		"Datums: stock edge, side 1, wall of the pocket, bore, side 2. Each one more adds a line to the budget.")
}

// floorBow is how far the floor between the walls gives under the force of the cutter in its middle: a plate that rests on its
// edges. A force in the middle bows it 2.9 to 4.2 times as much as spread evenly (sides 1:1 to 1:3, from memory); 4 is taken.
func floorBow(p *fold.Plan, floor, wall float64) (bow, push float64, why string) {
	cut, why := Heaviest(p)
	if why != "" {
		return 0, 0, why
	}
	part, err := p.Job.Library().Like(p.Job.Part.Material)
	switch {
	case err != nil:
		return 0, 0, err.Error()
	case floor == 0:
		return 0, 0, "no floor thickness in the job; give inspect.floor"
	case !part.Stiffness.Known():
		return 0, 0, fmt.Sprintf("no stiffness of %s is known; give materials.%s.e with its source", part.Name, part.Name)
	}
	load, err := cut.Load()
	if err != nil {
		return 0, 0, err.Error()
	}
	a, b := p.Job.Part.Size[0]-2*wall, p.Job.Part.Size[1]-2*wall
	push = math.Max(math.Abs(float64(load.Fa)), float64(load.Fh)*0.5)
	plate, err := hold.Plate{Long: unit.Length(math.Max(a, b)), Short: unit.Length(math.Min(a, b)), Thick: unit.Length(floor),
		E: unit.Stress(part.Stiffness.Low)}.Pressed(unit.Stress(push / (a * b / 4)))
	if err != nil {
		return 0, 0, err.Error()
	}
	return float64(plate.Bow), push, ""
}
