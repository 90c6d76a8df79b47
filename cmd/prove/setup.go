package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"math/rand/v2"

	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// builtinJob is the job that practice walks, in one hold-down plan, with its programs.
func builtinJob(holdDown string) (*jobs.Job, map[string]fold.ProgramFile, error) {
	texts, err := builtin.Texts(holdDown)
	if err != nil {
		return nil, nil, err
	}
	j, fs := jobs.ReadJob(jobs.Mem(texts), builtin.JobFile)
	if len(fs) > 0 {
		return nil, nil, fs
	}
	programs := map[string]fold.ProgramFile{}
	for _, g := range j.Setups[0].Programs {
		sum := sha256.Sum256([]byte(texts[g.File]))
		programs[g.Role] = fold.ProgramFile{Name: g.File, Hash: hex.EncodeToString(sum[:])[:16], Data: []byte(texts[g.File])}
	}
	return j, programs, nil
}

// preset is a machine and what is asked of it, as a new job offers them (common practice).
type preset struct {
	allowance, backlash, squareness, readout, repeat float64
}

var presets = []preset{
	{0.10, 0.010, 0.05 / 300, 0.002, 0.002},
	{0.05, 0.005, 0.02 / 300, 0.001, 0.001},
	{0.03, 0.002, 0.01 / 300, 0.001, 0.0008},
}

// drawn is one random setup.
type drawn struct {
	seed    uint64
	plan    *fold.Plan
	effects bench.Effects
	strata  []string
}

// Strata are what random setups are sorted by. Each setup lies in one of each group.
var strataNames = []string{"3-4 hits", "5-8 hits", "9-12 hits", "short edge", "long edge", "cold", "hot", "rotation off", "rotation on",
	"one bore", "two bores", "against walls", "floating"}

// draw is a random setup: part, features, fixture, machine and day, each from the seed. The allowance is
// four times what the machine is good for, so that no setup is given up for a limit and all
// are seen: what is asked here is whether the uncertainty is stated rightly, not whether it is small.
func draw(seed uint64) (*drawn, error) {
	d := &drawing{drawn: drawn{seed: seed}, r: rand.New(rand.NewPCG(seed, 0x5e7))}
	j, _, err := builtinJob([]string{"T", "M", "S"}[d.r.IntN(3)])
	if err != nil {
		return nil, err
	}
	s := &j.Setups[0]
	hits := [][2]int{{3, 4}, {5, 8}, {9, 12}}[d.pick("3-4 hits", "5-8 hits", "9-12 hits")]
	s.Hits = hits[0] + d.r.IntN(hits[1]-hits[0]+1)
	d.part(j)
	warm := d.fixture(j)
	d.machine(j)
	plan, err := steps.NewPlan(j, s.Name, nil)
	if err != nil {
		return nil, fmt.Errorf("seed %d: %w", seed, err)
	}
	d.plan, d.effects = plan, bench.Usual(plan)
	d.effects.Warmer = warm
	return &d.drawn, nil
}

// drawing draws in one order: what is drawn first stays as it was when something is added behind it.
type drawing struct {
	drawn
	r *rand.Rand
}

func (d *drawing) between(a, b float64) float64 { return a + (b-a)*d.r.Float64() }

func (d *drawing) whole(a, b float64) float64 { return math.Round(d.between(a, b)) }

func (d *drawing) one(of ...string) string { return of[d.r.IntN(len(of))] }

// pick draws one of a group of strata, and notes it.
func (d *drawing) pick(group ...string) int {
	i := d.r.IntN(len(group))
	d.strata = append(d.strata, group[i])
	return i
}

// part draws the part, its features, screws and straps, and how it lies.
func (d *drawing) part(j *jobs.Job) {
	s := &j.Setups[0]
	l, w, t := d.whole(60, 140), d.whole(40, 100), d.whole(8, 20)
	j.Part.Size = [3]float64{l, w, t}
	j.Part.Given = map[string]jobs.Given{"thickness": {Value: t + 0.02, U: 0.01, Source: "calliper"}}
	j.Part.Features = []jobs.Feature{{Name: "near corner"}, {Name: "inside", At: jobs.Point{X: d.whole(5, l-5), Y: d.whole(5, w-5)}},
		{Name: "far corner", At: jobs.Point{X: l, Y: w}}}
	j.Part.Material = d.one("bog-oak", "aluminium-6061-t6", "walnut-stabilised")
	if j.Part.Grain = ""; j.Part.Material == "bog-oak" {
		j.Part.Grain = d.one("", "x", "y")
	}
	s.Screws.At = []jobs.Point{{X: 8, Y: 8}, {X: l / 2, Y: 8}, {X: l - 8, Y: 8}, {X: l - 8, Y: w - 8}, {X: l / 2, Y: w - 8}, {X: 8, Y: w - 8}}
	s.Cut.Ap, s.Cut.Ae, s.Cut.Fz = 0.05, 0.5, 0.01 // light enough to be held in whatever was drawn
	for i := range s.Clamps {
		lo, hi := -50.0, 8.0
		if i == 1 {
			lo, hi = l-8, l+50
		}
		s.Clamps[i].Outline = jobs.Outline{{X: lo, Y: w/2 - 6}, {X: hi, Y: w/2 - 6}, {X: hi, Y: w/2 + 6}, {X: lo, Y: w/2 + 6}}
		s.Clamps[i].Top = t + 12
	}
	s.Flip = d.one("x", "y")
	s.Z0 = d.one("floor", "finished top")
	s.Against = []string{d.one("left", "right"), d.one("away", "toward")}
}

// fixture draws the fixture about the part; warm is how much warmer it is than on the day it was made.
func (d *drawing) fixture(j *jobs.Job) (warm float64) {
	s, f := &j.Setups[0], &j.Fixture
	l, w, t := j.Part.Size[0], j.Part.Size[1], j.Part.Size[2]
	z := jobs.Point{X: d.whole(25, 60), Y: d.whole(12, 30)}
	f.AsMade.PartZero = z
	f.AsMade.Floor.Depth = math.Round(0.75 * t)
	f.Material = d.one("acrylic-cast", "phenolic-paper-xx", "aluminium-6061-t6")
	c := math.Round(100*d.between(0.05, 0.10)) / 100
	f.Pocket = jobs.Pocket{Clearance: c, Outline: jobs.Outline{{X: z.X - c, Y: z.Y - c}, {X: z.X + l + c, Y: z.Y - c},
		{X: z.X + l + c, Y: z.Y + w + c}, {X: z.X - c, Y: z.Y + w + c}}}
	f.Support = []jobs.Outline{{{X: z.X, Y: z.Y}, {X: z.X + l, Y: z.Y}, {X: z.X + l, Y: z.Y + w}, {X: z.X, Y: z.Y + w}}}
	long := d.between(30, 50)
	if d.pick("short edge", "long edge") == 1 {
		long = d.between(90, 140)
	}
	e := f.AsMade.Edge
	e.Length, e.Side = math.Round(long), d.one("front", "rear", "left", "right")
	e.From = map[string]jobs.Point{"front": {X: 0, Y: -15}, "rear": {X: 0, Y: z.Y + w + 20}, "left": {X: -15, Y: 0},
		"right": {X: z.X + l + 20, Y: 0}}[e.Side]
	f.AsMade.Bore2 = nil
	// Of a fixture that grows little no temperature is asked, where the part does not either: it counts as within 5 K of the day it was made,
	// 1.5 of them drawn by the bench.
	warm = d.between(2, 8)
	if f.Material != "acrylic-cast" && j.Part.Material == "aluminium-6061-t6" {
		warm = d.between(1, 3.5)
	}
	if d.pick("cold", "hot") == 0 {
		warm = -warm
	}
	j.Machine.Rotation = []string{"none", "G68"}[d.pick("rotation off", "rotation on")]
	if d.pick("one bore", "two bores") == 1 {
		s.Bore2 = true
		f.AsMade.Bore2 = &jobs.Bore2{At: jobs.Point{X: z.X + l + 12}}
	}
	if d.pick("against walls", "floating") == 1 {
		s.Floating, s.Against = true, nil
	}
	return warm
}

// machine draws what the machine is good for.
func (d *drawing) machine(j *jobs.Job) {
	p, m := presets[d.r.IntN(len(presets))], &j.Machine
	j.Allowance, j.Thickness = unit.Length(4*p.allowance), unit.Length(10*p.allowance)
	m.Backlash, m.Squareness, m.SquareMeasured, m.Readout = p.backlash, unit.Slope(p.squareness), true, p.readout
	m.Probe.Repeat, m.Probe.Dof = p.repeat*d.between(0.8, 1.5), float64(10+d.r.IntN(40))
}
