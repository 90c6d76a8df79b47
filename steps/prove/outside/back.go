package outside

// The second job: an instrument's back in bog oak on a fixture of paper laminate with two bores, six screws in counterbores,
// grain along X. Its card is the one that the project ships; all else about it is told by this world.

const backFixture = `format: 1
fixture: PL-2
material: phenolic-paper-xx
as-made: {temperature: 21C, bore: {dia: 10}, bore2: {at: [150, 0]}, edge: {side: front, from: [5, -18], length: 140, zero: 0/100},
          part-zero: [30, 24], floor: {depth: 8, under: 17}}
pocket: {clearance: 0.05, outline: [[29.95, 23.95], [140.05, 23.95], [140.05, 100.05], [29.95, 100.05]]}
support: [[[30, 24], [140, 24], [140, 38], [30, 38]], [[30, 86], [140, 86], [140, 100], [30, 100]],
          [[30, 38], [44, 38], [44, 86], [30, 86]], [[126, 38], [140, 38], [140, 86], [126, 86]]]
threads: {kind: tapped, relief: 1.5, depth: 8, cycles: 4, retire: 15}
`

const backJob = `format: 1
job: other back
allowance: $allowance
thickness-allowance: $allowance
machine: bench.machine.yaml
part: {size: [110, 76, 14], material: bog-oak, grain: x, features: {opening: [62, 38], near corner: [0, 0], far corner: [110, 76]},
       given: {thickness: {value: 14.4, u: 0.01, source: calliper}, humidity: {value: 45, u: 2, source: hygrometer}}}
tools:
  3: {name: flat 4, dia: 4, teeth: 2, flute: 12, shank: 4, stickout: 22, holder: {dia: 28, length: 32}}
  5: {name: drill 2.9, dia: 2.9, point: 118, flute: 30, shank: 2.9, stickout: 36, holder: {dia: 28, length: 32}}
setups:
  side2:
    kind: second-side
    hold-down: $hold
    flip: $flip
    z0: $z0
    fixture: lid.fixture.yaml
    $walls
    offset: G54
    hits: $hits
    screws: {thread: M2.5, length: 12, washer: 8, washer-thickness: 0.8, through: 3, counterbore: 9.5,
             at: [[8, 8], [55, 8], [102, 8], [102, 68], [55, 68], [8, 68]]}$clamps
    cut: {tool: 3, ae: 1.5, ap: 0.2, fz: 0.02, lowest: $top}
    programs: {${drill}top: top.nc}
`

const backClamps = `
    clamps:
      left: {outline: [[-56, 31], [9, 31], [9, 45], [-56, 45]], top: $ct, heel: 32, tip: 22, bolt: M6, torque: 1Nm}
      right: {outline: [[101, 31], [166, 31], [166, 45], [101, 45]], top: $ct, heel: 32, tip: 22, bolt: M6, torque: 1Nm}`

const backHoles = `%
(OTHER BACK, SIDE 2: SIX HOLES FROM THE COUNTERBORES)
G17 G21 G40 G49 G80 G90 G94
G54
T5 M6
G43 H5
S3200 M3
G0 Z$high
X8 Y8
G98 G83 X8 Y8 Z$deep R$r Q1.2 F70
X55
X102
Y68
X55
X8
G80
G0 Z$clear
M5
G49
M30
%
`

// wides are the allowances of the second job: at the largest a hygrometer is worth reading.
var wides = []float64{Allowance, 0.25, 0.4}

// back fills in the second job.
func (v drawing) back(wide float64) map[string]string {
	const t = 14
	zero := 0.0
	if v["z0"] != "floor" {
		zero = t
	}
	v.set("allowance", wide)
	v.program(110, 76, t)
	v.set("deep", -1.07-zero)
	v.set("r", 5-zero)
	v.set("ct", 27-zero)
	if v["hold"] == "T" {
		v["clamps"] = v.fill(backClamps)
	}
	out := map[string]string{}
	for name, text := range map[string]string{"bench.machine.yaml": machineText, "lid.fixture.yaml": backFixture, JobFile: backJob,
		"holes.nc": backHoles, "top.nc": faceText} {
		out[name] = v.fill(text)
	}
	return out
}
