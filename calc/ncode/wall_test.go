package ncode

import (
	"math"
	"math/rand/v2"
	"testing"

	"fliptrue/calc/clearance"
)

// What is passed over as too far away changes nothing: the nearest approaches are those of
// every move held against every obstacle.
func TestBatchesAgainstAll(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 7))
	for round := range 30 {
		var obs []clearance.Obstacle
		for range 6 {
			x, y := rng.Float64()*200-100, rng.Float64()*200-100
			var pts []clearance.Point
			for k := range 5 {
				a := 2*math.Pi*float64(k)/5 + rng.Float64()
				pts = append(pts, clearance.Point{X: x + 12*math.Cos(a), Y: y + 7*math.Sin(a)})
			}
			o, err := clearance.NewOutline(pts)
			if err != nil {
				continue
			}
			obs = append(obs, clearance.Obstacle{Name: "clamp", Outline: o, Top: 12})
		}
		tool, err := clearance.NewTool("flat", clearance.Dims{Dia: 6, Flute: 10, Shank: 6, Stickout: 20, Holder: 24})
		if err != nil {
			t.Fatal(err)
		}
		tools := map[int]clearance.Tool{3: tool}
		fast, err := NewClearance(clearance.Usual, obs, tools, nil)
		if err != nil {
			t.Fatal(err)
		}
		all, _ := NewClearance(clearance.Usual, obs, tools, nil)
		all.tool, all.parts = &tool, tool.Parts()
		at := [3]float64{0, 0, -2}
		for line := range 600 {
			m := Move{Kind: Feed, Known: 7, Ends: 7, Tool: 3, Line: line + 1, From: at}
			m.To = [3]float64{at[0] + rng.NormFloat64()*4, at[1] + rng.NormFloat64()*4, rng.Float64()*12 - 6}
			switch rng.IntN(8) {
			case 0:
				m.Kind = Rapid
			case 1:
				a, r := rng.Float64()*2*math.Pi, 2+4*rng.Float64()
				m.Kind, m.Radius, m.Sweep = ArcCCW, r, 4
				m.Centre = [3]float64{at[0] - r*math.Cos(a), at[1] - r*math.Sin(a), at[2]}
				m.To[0], m.To[1] = m.Centre[0]+r*math.Cos(a+4), m.Centre[1]+r*math.Sin(a+4)
			}
			fast.Move(&m)
			all.hold(&m)
			at = m.To
		}
		for i, a := range fast.Nearest() {
			if b := all.near[i]; math.Abs(a.Gap-b.Gap) > 1e-6 || a.Below != b.Below || a.First != b.First {
				t.Errorf("round %d: %+v, all moves: %+v", round, a, b)
			}
		}
	}
}
