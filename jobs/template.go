package jobs

import (
	"bytes"
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"text/template"

	"fliptrue/calc/unit"
)

// Answers are the few things a new job or card needs, as typed. What is left empty
// gets the value of the example: the lid of a ship's-compass box.
type Answers struct {
	Job      string // name of the job
	Unit     unit.System
	Preset   string // small/hobby, bench or tight
	Material string
	Size     [3]string // length, width, thickness finished
	HoldDown string    // T, M or S
	Flip     string    // x or y
	Z0       string    // floor or finished top
	Offset   string    // G54 ...
	Finds    string
	Machine  string // name of the machine
	Probe    bool   // the machine has a touch probe
	Fixture  string // what is engraved on the fixture

	MachineFile, FixtureFile string // plain names beside the job

	Kinds  []string // kinds of setup, in the order of the walk; none: a second side
	Depth  string   // depth of the heaviest cut; "" for the usual one
	Schema string   // folder of the schemas, as seen from the files; "" for none
}

// Has reports whether a kind of setup is wanted.
func (a Answers) Has(kind string) bool {
	return slices.Contains(a.Kinds, kind) || len(a.Kinds) == 0 && kind == "second-side"
}

// Preset is what a kind of machine can hold: a register allowance, and the machine's
// backlash and squareness to begin with, metric and inch.
type Preset struct {
	Name                            string
	Allowance, Backlash, Squareness [2]string
}

// Presets are common practice for small mills; each number is there to be edited.
var Presets = []Preset{
	{"small/hobby", [2]string{"0.10", "0.004"}, [2]string{"0.010", "0.0004"}, [2]string{"0.05/300", "0.002/12"}},
	{"bench", [2]string{"0.05", "0.002"}, [2]string{"0.005", "0.0002"}, [2]string{"0.02/300", "0.0008/12"}},
	{"tight", [2]string{"0.03", "0.0012"}, [2]string{"0.002", "0.0001"}, [2]string{"0.01/300", "0.0004/12"}},
}

// complete fills in what was not answered.
func (a Answers) complete() Answers {
	or := func(s *string, def string) {
		if strings.TrimSpace(*s) == "" {
			*s = def
		}
	}
	or(&a.Job, "compass-box lid")
	or(&a.Preset, "bench")
	or(&a.Material, "walnut-stabilised")
	for i, mm := range []float64{96, 64, 16} {
		or(&a.Size[i], a.show(mm))
	}
	or(&a.HoldDown, "T")
	or(&a.Flip, "x")
	or(&a.Z0, "floor")
	or(&a.Offset, "G54")
	or(&a.Finds, map[bool]string{true: "probe", false: "dial"}[a.Probe])
	or(&a.Machine, "bench mill")
	or(&a.Fixture, "FX-1")
	or(&a.MachineFile, "bench.machine.yaml")
	or(&a.FixtureFile, "lid.fixture.yaml")
	return a
}

// show writes millimetres as a bare number of the job's unit, rounded to its step.
func (a Answers) show(mm float64) string {
	if a.Unit == unit.Imperial {
		return strconv.FormatFloat(math.Round(mm/float64(unit.Inch)*1e4)/1e4, 'f', -1, 64)
	}
	return strconv.FormatFloat(math.Round(mm*1e3)/1e3, 'f', -1, 64)
}

// size is one of the part's sizes in millimetres; the reader complains of a bad one.
func (a Answers) size(i int) float64 {
	n, err := unit.Parse(a.Size[i], unit.KLength, a.Unit)
	if err != nil {
		return [3]float64{96, 64, 16}[i]
	}
	return n.Value
}

func (a Answers) preset(pick func(Preset) [2]string) string {
	i := max(0, slices.IndexFunc(Presets, func(p Preset) bool { return p.Name == a.Preset }))
	return pick(Presets[i])[a.Unit]
}

// NewJob writes a job file with comments for the answers. It reads without a fault
// when the answers are good ones.
func NewJob(a Answers) []byte { return a.write(jobText) }

// NewMachine writes a machine card with comments.
func NewMachine(a Answers) []byte { return a.write(machineText) }

// NewFixture writes a fixture card with comments, laid out for the part's size. Its
// as-made values are nominal until measured, and say so.
func NewFixture(a Answers) []byte { return a.write(fixtureText) }

func (a Answers) write(text string) []byte {
	a = a.complete()
	funcs := a.words()
	maps.Copy(funcs, a.places())
	var b bytes.Buffer
	if err := template.Must(template.New("").Funcs(funcs).Parse(text)).Execute(&b, a); err != nil {
		panic("jobs: template: " + err.Error())
	}
	return b.Bytes()
}

// pick is one of two texts, by the unit.
func (a Answers) pick(mm, in string) string {
	if a.Unit == unit.Imperial {
		return in
	}
	return mm
}

// words are what a template asks by name that is no place.
func (a Answers) words() template.FuncMap {
	return template.FuncMap{
		"q":          plainOrQuoted,
		"u":          a.pick,
		"allowance":  func() string { return a.preset(func(p Preset) [2]string { return p.Allowance }) },
		"backlash":   func() string { return a.preset(func(p Preset) [2]string { return p.Backlash }) },
		"squareness": func() string { return a.preset(func(p Preset) [2]string { return p.Squareness }) },
		"straps":     func() bool { return a.HoldDown != "S" && a.Has("second-side") },
		"drills":     func() bool { return a.HoldDown != "S" || a.Has("first-side") },
		"part":       func() bool { return a.Has("second-side") || a.Has("first-side") },
		"depth":      func() string { return cmp.Or(a.Depth, a.pick("0.2", "0.008")) },
		"sign": func(file, path string) string {
			return "# " + path[strings.LastIndexByte(path, '.')+1:] + ": " + signOf(file, path)
		},
		"mode": func(file string) string {
			if a.Schema == "" {
				return ""
			}
			return "# yaml-language-server: $schema=" + a.Schema + "/" + file + ".json\n"
		},
	}
}

// places are the places and lengths that a template asks for, laid out for the part's size.
func (a Answers) places() template.FuncMap {
	// Both lists give round numbers of their unit; inside they are millimetres.
	g := func(mm, in float64) float64 {
		if a.Unit == unit.Imperial {
			return in * float64(unit.Inch)
		}
		return mm
	}
	l, w, t := a.size(0), a.size(1), a.size(2)
	x, y, c := g(45, 1.8), g(20, 0.8), g(0.02, 0.001)     // part zero from bore 1; clearance per side
	grip, skin := g(5, 0.2), 0.5                          // in the jaws; below the part for side 2, by the default of part.skin
	strap, reach, over := g(6, 0.25), g(50, 2), g(8, 0.3) // half width; beyond the part; onto it
	in := min(g(6, 0.25), l/8, w/8)
	top := g(12, 0.5)
	if a.Z0 != "finished top" {
		top += t
	}
	is := template.FuncMap{"zero": func() string { return "[" + a.show(x) + ", " + a.show(y) + "]" }}
	for name, mm := range map[string]float64{"top": top, "through": min(g(2.5, 0.1), t/2), "bore2": l + g(24, 1), "grip": grip,
		"jawTop": grip - t - skin, "lowest": grip - t - skin + g(2, 0.08)} {
		is[name] = func() string { return a.show(mm) }
	}
	for name, b := range map[string][4]float64{
		"screws":     {in, in, l - in, w - in},
		"strapLeft":  {-reach, w/2 - strap, over, w/2 + strap},
		"strapRight": {l - over, w/2 - strap, l + reach, w/2 + strap},
		"pocket":     {x - c, y - c, x + l + c, y + w + c},
		"support":    {x, y, x + l, y + w},
	} {
		is[name] = func() string { return a.box(b) }
	}
	return is
}

// box writes the corners of a box: its least x and y, its most.
func (a Answers) box(b [4]float64) string {
	x0, y0, x1, y1 := a.show(b[0]), a.show(b[1]), a.show(b[2]), a.show(b[3])
	return fmt.Sprintf("[[%s, %s], [%s, %s], [%s, %s], [%s, %s]]", x0, y0, x1, y0, x1, y1, x0, y1)
}

const jobText = `{{mode "job"}}# A job: one part, the setups it goes through, and the cards of the machine and the fixture.
# Bare numbers are in the unit below; any value may carry its own, as {{u "1.2mm or 3/64in" "3/64in"}}.
format: 1
job: {{q .Job}}
unit: {{.Unit}}
allowance: {{allowance}}                # register allowance: the mismatch of the two sides that may be
machine: {{q .MachineFile}}
pace: first time                # or: known job

{{- if part}}

part:
  size: [{{range $i, $s := .Size}}{{if $i}}, {{end}}{{q $s}}{{end}}]             # length along X, width along Y, thickness, all finished
  material: {{q .Material}}
  features:                     # the places whose register matters, from the part zero of the second side
    far corner: [{{q (index .Size 0)}}, {{q (index .Size 1)}}]

tools:                          # by their number at the machine; lengths from the tip
  3: {name: flat {{u "3.175" "1/8"}}, dia: {{u "3.175" "1/8"}}, teeth: 2, flute: {{u "10" "3/8"}}, shank: {{u "3.175" "1/8"}}, stickout: {{u "20" "0.8"}}, holder: {dia: {{u "24" "0.95"}}, length: {{u "30" "1.2"}}}}
{{- if drills}}
  5: {name: drill {{u "2.4" "0.096"}}, dia: {{u "2.4" "0.096"}}, point: 118, flute: {{u "24" "0.95"}}, shank: {{u "2.4" "0.096"}}, stickout: {{u "30" "1.2"}}, holder: {dia: {{u "24" "0.95"}}, length: {{u "30" "1.2"}}}}
{{- end}}

{{- end}}

setups:
{{- if .Has "ball"}}
  ball: {kind: ball}            # calibrates the probe in a ring gauge
{{- end}}
{{- if .Has "tram"}}
  tram: {kind: tram}            # sweeps the spindle's lean to the table
{{- end}}
{{- if .Has "first-side"}}
  side1:
    kind: first-side
    z0: top skin                # the finished top of side 1: the lowest place of the raw top less its skin
    zero: corner                # X0 Y0 at a corner of the part, or centre
    {{sign "job" "setups.NAME.zero"}}
    offset: {{q .Offset}}
    finds: {{q .Finds}}                # probe, dial, edge finder, pin or paper
    vise:                       # heights count from Z0, so the jaws are below it: minus
      jaw: away                 # side of the fixed jaw: away or toward
      jaw-top: {{jawTop}}            # grip less finished thickness less the skin of side 2
      grip: {{grip}}                   # how deep the jaws hold
      stop: left                # side of the stop; leave out without one
{{- if eq .HoldDown "S"}}
    holes-here: true            # the clearance holes for the screws of side 2
{{- end}}
    cut: {tool: 3, ae: {{u "1" "0.04"}}, ap: {{u "0.2" "0.008"}}, fz: {{u "0.02" "0.0008"}}, lowest: {{lowest}}}   # the heaviest cut; lowest Z over the jaws
    programs: { {{- if eq .HoldDown "S"}}drill: side1-holes.nc, {{end}}top: side1.nc}
{{- end}}
{{- if .Has "second-side"}}
  side2:
    kind: second-side
    hold-down: {{q .HoldDown}}                # T: fixture tapped before; M: holes matched through the part; S: holes made on side 1
    flip: {{q .Flip}}                     # the axis the part is turned about
    {{sign "job" "setups.NAME.flip"}}
    z0: {{q .Z0}}                   # what the program's Z0 is: floor or finished top
    fixture: {{q .FixtureFile}}
    against: [left, away]       # the two pocket walls the part is pushed against; or floating: true
    offset: {{q .Offset}}
    finds: {{q .Finds}}                # probe, dial, edge finder, pin or paper
    screws:
      thread: {{u "M2" "2-56"}}
      length: {{u "8" "3/8"}}
      washer: {{u "5" "0.2"}}                 # outside diameter; leave out without washers
      through: {{through}}              # thickness of the part under the washer
      at: {{screws}}
{{- if straps}}
    clamps:                     # heel: heel block to bolt; tip: bolt to tip; top: highest point above Z0
      left: {outline: {{strapLeft}}, top: {{top}}, heel: {{u "30" "1.2"}}, tip: {{u "20" "0.8"}}, bolt: {{u "M6" "1/4-20"}}, torque: {{u "1Nm" "140in-oz"}}}
      right: {outline: {{strapRight}}, top: {{top}}, heel: {{u "30" "1.2"}}, tip: {{u "20" "0.8"}}, bolt: {{u "M6" "1/4-20"}}, torque: {{u "1Nm" "140in-oz"}}}
{{- end}}
    cut: {tool: 3, ae: {{u "1" "0.04"}}, ap: {{depth}}, fz: {{u "0.02" "0.0008"}}}   # the heaviest cut of the program
    # cut takes regions: {rim: {outline: [[x, y], ...], lowest: z}} where the tip goes, for keep-out and reach
    # obstacles: {stop: {outline: [[x, y], ...], top: z}}   what else stands there; table: the outline it stands on
    programs: { {{- if straps}}drill: holes.nc, {{end}}top: top.nc}
{{- end}}
`

const machineText = `{{mode "machine"}}# A machine card: what the machine and its instruments are. Several jobs share it, so
# its bare numbers are in its own unit. Calibration and tram results are written back here.
format: 1
machine: {{q .Machine}}
unit: {{.Unit}}
travel: {x: [{{u "-400" "-16"}}, 0], y: [{{u "-250" "-10"}}, 0], z: [{{u "-300" "-12"}}, 0]}   # lowest and highest machine coordinate
readout: {{u "0.001" "0.0001"}}                  # its step
rotation: none                  # or the word that turns coordinates, such as G68
dialect: lenient                # of programs: strict refuses whatever the standard does, such as a safety line G0 G17 G40 G80
lengths: table                  # of tools: table where G43 calls them, touched-off where each tool is touched off
delivers: type-in               # how an offset gets in: type-in, g10, g92 or readout
backlash: {{backlash}}                 # measure it; this is what machines of this kind have
squareness: {{squareness}}            # measure it; this is what machines of this kind have
{{sign "machine" "squareness"}}
dial: {graduation: {{u "0.002" "0.0001"}}}
{{- if .Probe}}
{{sign "machine" "probe.eccentricity"}}
# Not calibrated yet: nominal ball, and a radius and repeat to begin with. The walk has it calibrated first; that takes void away.
probe: {ball: {{u "2" "0.0787"}}, radius: {{u "0.99" "0.039"}}, repeat: {{u "0.001" "0.00005"}}, dof: 5, source: not calibrated, void: not calibrated yet}
{{- end}}
{{- if eq .Finds "edge finder"}}
# Nominal tip, and a repeat to begin with: measure both before the first part.
edge-finder: {dia: {{u "4" "0.2"}}, repeat: {{u "0.005" "0.0002"}}}
{{- end}}
# tram: {x: 0.010/300, y: 0.006/300}   # the spindle's lean, once it is measured
{{sign "machine" "tram.x"}}
{{sign "machine" "tram.y"}}
`

const fixtureText = `{{mode "fixture"}}# A fixture card: what was measured before the fixture was unclamped from the setup it was
# made in. Places count from bore 1, x along the edge. Bare numbers are in the unit below.
# The values here are NOMINAL: replace each by what you measured. Uses and screw cycles
# are added at release.
format: 1
fixture: {{q .Fixture}}                   # engrave it; it is asked for at the machine
unit: {{.Unit}}
material: {{if eq .Preset "tight"}}aluminium-6061-t6{{else}}acrylic-cast{{end}}
as-made:
  temperature: {{u "20C" "68F"}}
  {{sign "fixture" "as-made.bore.bias"}}
  {{sign "machine" "probe.eccentricity"}}
  bore: {dia: {{u "8" "5/16"}}, bias: [0, 0], eccentricity: [0, 0]}
  bore2: {at: [{{bore2}}, 0]}
  {{sign "fixture" "as-made.edge.zero"}}
  edge: {side: front, from: [0, {{u "-15" "-0.6"}}], length: {{bore2}}, zero: 0/100}
  part-zero: {{zero}}       # of a part in the middle of its pocket
  floor: {depth: {{u "12" "1/2"}}, under: {{u "12" "1/2"}}} # below the rim; material under it
pocket: {clearance: {{u "0.02" "0.001"}}, outline: {{pocket}}}   # clearance per side
support: [{{support}}]          # solid fixture under the part; leave out what is milled away
threads: {kind: tapped, relief: {{u "1" "0.04"}}, depth: {{u "5" "1/4"}}, cycles: 0, retire: 10}   # depth: full thread below the relief
# Strip one sacrificial thread of this fixture and add to threads what it took: strip-angle: 200 (from snug,
# degrees), strip-torque: {{u "0.12Nm" "17in-oz"}}. A tested number replaces the range of the table.
`
