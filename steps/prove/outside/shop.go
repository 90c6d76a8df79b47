package outside

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/fold"
)

// Shop is one job with its cards and programs, as files.
type Shop struct {
	Files map[string]string
	Kind  []string // what was drawn: T, flip x, floating ...
	Level fold.Level
	Wide  float64 // the allowance, mm
}

// JobFile is the job among a shop's files.
const JobFile = "lid.job.yaml"

// Allowance is the register allowance of most jobs drawn, mm: wide enough that few walks are
// given up, since what is asked is whether an interval holds, not whether it is small.
const Allowance = 0.15

const machineText = `format: 1
machine: other mill
travel: {x: [-400, 0], y: [-250, 0], z: [-300, 0]}
readout: 0.001
backlash: 0.005
squareness: 0.010/100
probe: {ball: 2, radius: 0.991, eccentricity: [0, 0], repeat: 0.001, dof: 30, source: ring gauge}
tram: {x: 0.010/300, y: 0.006/300}
dial: {graduation: 0.002}
`

const fixtureText = `format: 1
fixture: FX-9
material: $stuff
as-made: {temperature: 20.5C, bore: {dia: 8},$bore2
          edge: {side: $side, from: $from, length: $long, zero: 0/100},
          part-zero: [$px, $py], floor: {depth: 11, under: 12}}
pocket: {clearance: $c, outline: [[$x0, $y0], [$x1, $y0], [$x1, $y1], [$x0, $y1]]}
support: [[[$px, $py], [$qx, $py], [$qx, $qy], [$px, $qy]]]
threads: {kind: tapped, relief: 1, depth: 5, cycles: 3, retire: 10}
`

const jobText = `format: 1
job: other lid
allowance: $allowance
machine: bench.machine.yaml
part: {size: [$l, $b, $t], material: $part, features: {near corner: [0, 0], inside: [$fx, $fy], far corner: [$l, $b]},
       given: {thickness: {value: $thick, u: 0.01, source: calliper}}}
tools:
  3: {name: flat 3.175, dia: 3.175, teeth: 2, flute: 10, shank: 3.175, stickout: 20, holder: {dia: 24, length: 30}}
  5: {name: drill 2.4, dia: 2.4, point: 118, flute: 24, shank: 2.4, stickout: 30, holder: {dia: 24, length: 30}}
setups:
  side2:
    kind: second-side
    hold-down: $hold
    flip: $flip
    z0: $z0
    fixture: lid.fixture.yaml
    $walls
    offset: G54
    hits: $hits$reads2
    screws: {thread: M2, length: 8, washer: 5, through: 2.5, at: [[6, 6], [$sx, 6], [$sx, $sy], [6, $sy]]}$clamps
    cut: {tool: 3, ae: 1, ap: 0.1, fz: 0.02, lowest: $top}
    programs: {${drill}top: top.nc}
`

const clampText = `
    clamps:
      left: {outline: [[-50, $c0], [8, $c0], [8, $c1], [-50, $c1]], top: $ct, heel: 30, tip: 20, bolt: M6, torque: 1Nm}
      right: {outline: [[$cx, $c0], [$cy, $c0], [$cy, $c1], [$cx, $c1]], top: $ct, heel: 30, tip: 20, bolt: M6, torque: 1Nm}`

const drillText = `%
(OTHER LID, SIDE 2: FOUR CLEARANCE HOLES)
G17 G21 G40 G49 G80 G90 G94
G54
T5 M6
G43 H5
S3000 M3
G0 Z$high
X6 Y6
G98 G83 X6 Y6 Z$deep R$over Q1.5 F60
X$sx Y6
X$sx Y$sy
X6 Y$sy
G80
G0 Z$clear
M5
G49
M30
%
`

const faceText = `%
(OTHER LID, SIDE 2: FACE THE TOP)
G17 G21 G40 G49 G80 G90 G94
G54
T3 M6
G43 H3
S12000 M3
G0 Z$high
X-3 Y-1
Z$over
G1 Z$first F200
M98 P100 L$passes
G0 Z$over
X-3 Y-1
G1 Z$second F200
M98 P100 L$passes
G0 Z$over
X-3 Y-1
G1 Z$third F200
M98 P100 L$passes
G0 Z$over
X-3 Y-1
G1 Z$top F200
M98 P100 L$passes
G0 Z$clear
M5
G49
M30
O100
G91
G1 X$width F480
Y1
X-$width
Y1
G90
M99
%
`

// drawing are the values that stand in a shop's files, by their names there.
type drawing map[string]string

func (v drawing) set(name string, x float64) { v[name] = strconv.FormatFloat(x, 'f', -1, 64) }

func (v drawing) fill(text string) string {
	return os.Expand(text, func(k string) string { return v[k] })
}

// NewShop draws a job: size, features, fixture, flip, walls, edge, bores and materials. hold is T, S or "" for either.
func NewShop(seed uint64, hold string) Shop {
	r := rand.New(rand.NewPCG(seed, 0x0dd))
	pick := func(s ...string) string { return s[r.IntN(len(s))] }
	whole := func(a, b int) float64 { return float64(a + r.IntN(b-a+1)) }
	either := pick("T", "S")
	if hold == "" {
		hold = either
	}
	v := drawing{}
	l, b, t := whole(60, 110), whole(56, 80), whole(12, 18)
	v["hold"], v["flip"], v["z0"], v["hits"] = hold, pick("x", "y"), pick("floor", "finished top"), pick("4", "6", "8")
	v["walls"] = fmt.Sprintf("against: [%s, %s]", pick("left", "right"), pick("away", "toward"))
	v["stuff"] = pick("acrylic-cast", "acrylic-cast", "aluminium-6061-t6")
	v["part"] = pick("walnut-stabilised", "walnut-stabilised", "black-walnut")
	v["side"] = pick("front", "rear", "left", "right")
	bores, lies := pick("one bore", "one bore", "two bores"), "against walls"
	level := []fold.Level{fold.Full, fold.Proven, fold.FirstUse, fold.Irreplaceable}[seed%4]
	if r.IntN(6) == 0 {
		lies, v["walls"] = "floating", "floating: true"
	}
	if seed/4%3 == 0 {
		wide := wides[seed/12%3]
		return Shop{v.back(wide), []string{hold, "flip " + v["flip"], "Z0 " + v["z0"], v["hits"] + " hits", "two bores on the card", lies,
			"phenolic-paper-xx", "part bog-oak", "edge front", "level " + level.String()}, level, wide}
	}
	v.set("fx", whole(8, int(l)-8))
	v.set("fy", whole(8, int(b)-8))
	v.lay(l, b, t, whole(40, 50), whole(18, 25), 0.01*whole(1, 3), bores == "two bores")
	v.program(l, b, t)

	files := map[string]string{}
	for name, text := range map[string]string{"bench.machine.yaml": machineText, "lid.fixture.yaml": fixtureText, JobFile: jobText,
		"holes.nc": drillText, "top.nc": faceText} {
		files[name] = v.fill(text)
	}
	return Shop{files, []string{hold, "flip " + v["flip"], "Z0 " + v["z0"], v["hits"] + " hits", bores, lies, v["stuff"], "part " + v["part"],
		"edge " + v["side"], "level " + level.String()}, level, Allowance}
}

// lay lays part and fixture out: a part of l by b by t whose zero is at px, py from the bore, in a pocket with clearance c.
func (v drawing) lay(l, b, t, px, py, c float64, bore2 bool) {
	v.set("allowance", Allowance)
	for name, x := range map[string]float64{"l": l, "b": b, "t": t, "thick": t + 0.02, "px": px, "py": py, "qx": px + l, "qy": py + b, "c": c,
		"x0": px - c, "y0": py - c, "x1": px + l + c, "y1": py + b + c, "sx": l - 6, "sy": b - 6} {
		v.set(name, x)
	}
	v["from"] = map[string]string{"front": "[0, -15]", "rear": fmt.Sprintf("[0, %g]", py+b+20), "left": "[-15, 0]",
		"right": fmt.Sprintf("[%g, 0]", px+l+20)}[v["side"]]
	v.set("long", px+l-10)
	if v["side"] == "left" || v["side"] == "right" {
		v.set("long", py+b)
	}
	if bore2 {
		v["bore2"], v["reads2"] = fmt.Sprintf(" bore2: {at: [%g, 0]},", px+l+12), "\n    bore2: true"
	}
}

// program gives heights in the program's frame, and the straps that the drilling needs.
func (v drawing) program(l, b, t float64) {
	zero := 0.0 // height of the program's zero over the floor
	if v["z0"] != "floor" {
		zero = t
	}
	for name, z := range map[string]float64{"top": t, "high": t + 24, "over": t + 2, "clear": t + 44, "deep": -0.92, "first": t + 0.36,
		"second": t + 0.24, "third": t + 0.12} {
		v.set(name, z-zero)
	}
	v.set("width", l+6)
	v.set("passes", math.Ceil(b/2)+1)
	if v["hold"] != "T" {
		return
	}
	v["drill"] = "drill: holes.nc, "
	for name, x := range map[string]float64{"c0": b/2 - 6, "c1": b/2 + 6, "ct": t + 12 - zero, "cx": l - 8, "cy": l + 50} {
		v.set(name, x)
	}
	v["clamps"] = v.fill(clampText)
}

// Write puts the files into a folder.
func (s Shop) Write(dir string) error {
	for name, text := range s.Files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			return err
		}
	}
	return nil
}

// swap puts other words for some in a file.
func (s *Shop) swap(file, was, is string) { s.Files[file] = strings.Replace(s.Files[file], was, is, 1) }

// Plan is the plan of the shop's one setup, with the programs as they lie on the disk.
func (s Shop) Plan() (*fold.Plan, error) {
	j, fs := jobs.ReadJob(jobs.Mem(s.Files), JobFile)
	if len(fs) > 0 {
		return nil, fs
	}
	programs := map[string]fold.ProgramFile{}
	for _, g := range j.Setups[0].Programs {
		data := []byte(s.Files[g.File])
		sum := sha256.Sum256(data)
		programs[g.Role] = fold.ProgramFile{Name: g.File, Hash: hex.EncodeToString(sum[:])[:16], Data: data}
	}
	p, err := steps.NewPlan(j, j.Setups[0].Name, programs)
	if err != nil {
		return nil, err
	}
	return p.AtLevel(s.Level), nil
}
