package prove

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"fmt"
	"maps"
	"strings"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
)

// earlier are the programs of the jobs that kept records were drawn in.
//
//go:embed shop
var earlier embed.FS

// before are the setups that go before side 2 of the practice job, in millimetres and in inches.
const (
	before = `setups:
  side1: {kind: first-side, offset: G55, finds: probe, z0: top skin, zero: corner,
          vise: {jaw: away, jaw-top: -9.9, parallel: 25, grip: 4.5, stop: left, wall: 2.6, wall-span: 47},
          cut: {tool: 3, ae: 1.5, ap: 0.4, fz: 0.02, lowest: -8.8}}
  ring: {kind: ball}
  head: {kind: tram}
`
	beforeInch = `setups:
  side1: {kind: first-side, offset: G54, finds: probe, z0: top skin, zero: corner,
          vise: {jaw: away, jaw-top: -0.39, parallel: 1, grip: 0.18, stop: left, wall: 0.1, wall-span: 1.8},
          cut: {tool: 3, ae: 0.06, ap: 0.016, fz: 0.0008, lowest: -0.35}}
  ring: {kind: ball}
  head: {kind: tram}
`
	probeInch = "probe: {ball: 1/8, radius: 0.062, eccentricity: [0, 0], repeat: 0.00004, dof: 30, source: ring gauge}\n"
)

// Shops are the jobs that walks are drawn in: the practice job in its hold-down plans, and in inches.
var Shops = []string{"back-T", "back-M", "back-S", "back-inch"}

// texts are the files of a shop; its job is the built-in one.
func texts(shop string) (map[string]string, error) {
	plan, ok := strings.CutPrefix(shop, "back-")
	if !ok {
		return nil, fmt.Errorf("shop %q is not known; known are %s", shop, strings.Join(Shops, " "))
	}
	out, err := builtin.Texts(plan)
	if err != nil {
		return nil, err
	}
	first := before
	if plan == builtin.Inch {
		first = beforeInch
		out["knee.machine.yaml"] += probeInch
		out[builtin.JobFile] = strings.Replace(out[builtin.JobFile], "finds: edge finder", "finds: probe\n    hits: 6", 1)
	}
	out[builtin.JobFile] = strings.Replace(out[builtin.JobFile], "setups:\n", first, 1)
	return out, nil
}

// Job is a shop's job with tram, ball and side 1 before its side 2.
func Job(shop string) (*jobs.Job, error) {
	files, err := texts(shop)
	if err != nil {
		return nil, err
	}
	j, fs := jobs.ReadJob(jobs.Mem(files), builtin.JobFile)
	return j, fs.Err()
}

// lain are the programs of earlier jobs by role, by what a kept record calls its shop.
var lain = map[string]map[string]string{
	"T": {"drill": "lid/holes.nc", "top": "lid/top.nc"}, "M": {"drill": "lid/holes-matched.nc", "top": "lid/top.nc"}, "S": {"top": "lid/top.nc"},
	"inch": {"drill": "tray/holes.nc", "top": "tray/top.nc"},
}

// Programs are the NC programs of a shop by role, of today's or of one that a kept record names; none of "none".
func Programs(shop string) (map[string]fold.ProgramFile, error) {
	out := map[string]fold.ProgramFile{}
	files, name := map[string]string{}, map[string]string{"drill": "holes.nc", "top": "top.nc"}
	switch {
	case shop == "none":
		return nil, nil
	case lain[shop] != nil:
		for role, file := range lain[shop] {
			text, err := earlier.ReadFile("shop/" + file)
			if err != nil {
				return nil, err
			}
			files[name[role]] = string(text)
		}
	default:
		var err error
		if files, err = texts(shop); err != nil {
			return nil, err
		}
	}
	for role, file := range name {
		if text, ok := files[file]; ok {
			out[role] = Program(file, []byte(text))
		}
	}
	return out, nil
}

// Program is an NC program as the command line would hand it over.
func Program(name string, data []byte) fold.ProgramFile {
	sum := sha256.Sum256(data)
	return fold.ProgramFile{Name: name, Hash: hex.EncodeToString(sum[:])[:16], Data: data}
}

// edit is a change of a job by the places that jobs.Flatten names: an empty value takes a place, and all below it, out.
type edit map[string]string

// apply changes a flattened job. What does not read then is an error, and nothing is changed.
func (e edit) apply(flat map[string]string) (map[string]string, error) {
	out := maps.Clone(flat)
	for k, v := range e {
		if v != "" {
			out[k] = v
			continue
		}
		for old := range flat {
			if old == k || strings.HasPrefix(old, k+".") {
				delete(out, old)
			}
		}
	}
	if _, fs := jobs.FromFlat(out); len(fs) > 0 {
		return flat, fmt.Errorf("%v: %w", e, fs)
	}
	return out, nil
}

// variants are what one shop differs in from another, in groups of which a draw takes one each; nil is as it is.
var variants = [][]edit{
	{nil, nil, {"machine.rotation": "G68"}},
	{nil, {"machine.delivers": "g10"}, {"machine.delivers": "g92"}, {"machine.delivers": "readout"}},
	{nil, nil, nil, {"job.setups.side2.hits": "5"}, {"job.setups.side2.hits": "8", "job.setups.side1.hits": "4"}},
	{nil, nil, {"job.setups.side2.bore2": "true"}},
	{nil, nil, {"job.setups.side2.against": "", "job.setups.side2.floating": "true"}, {"job.setups.side2.against.0": "right", "job.setups.side2.against.1": "toward"}},
	{nil, nil, {"job.setups.side2.flip": "y"}},
	{nil, nil, {"job.setups.side2.z0": "finished top"}},
	{nil, nil, {"fixture.as-made.bore.kind": "pin", "fixture.as-made.bore2": ""}, {"fixture.as-made.bore.kind": "square", "fixture.as-made.bore2": ""}},
	{nil, nil, nil, {"fixture.material": "aluminium 6061"}},
	{nil, nil, nil, {"job.part.material": "maple-hard"}, {"job.part.material": "walnut-stabilised", "job.part.grain": ""}},
	{nil, nil, nil, {"machine.homed": "false"}},
	{nil, nil, nil, {"machine.tram": ""}},
	{nil, nil, nil, {"job.part.given": ""}},
	{nil, nil, nil, {"fixture.threads.kind": "insert", "fixture.threads.pullout": "350N", "fixture.threads.source": "tested on scrap"}},
	{nil, nil, {"job.allowance": "0.1mm"}, {"job.allowance": "0.03mm"}},
	{nil, nil, {"job.setups.side1.vise.jaw": "toward"}},
	{nil, nil, {"job.setups.side1.vise.stop": "right"}, {"job.setups.side1.vise.stop": ""}},
	{nil, nil, {"job.setups.side1.zero": "centre"}},
	{nil, nil, {"job.setups.side1.holes-here": "true"}},
	{nil, nil, nil, {"job.setups.side1.vise.wall": ""}},
	{nil, nil, nil, {"fixture.as-made.edge": ""}, {"fixture.as-made.edge.side": "rear", "fixture.as-made.edge.from.1": "118mm"}},
	{nil, nil, nil, {"fixture.as-made.temperature": ""}},
	{nil, nil, nil, {"fixture.threads.strip-angle": "200"}},
}

// finders are the ways to find a place, each as a change of the job; those but the first have no probe at hand.
var finders = []string{"probe", "dial", "edge finder", "pin", "paper"}

func finder(name string) edit {
	e := edit{"job.setups.side2.finds": name, "job.setups.side1.finds": name}
	switch name {
	case "probe":
		return nil
	case "dial", "pin":
		e["job.setups.side1.finds"] = "paper"
	case "edge finder":
		e["machine.edge-finder.dia"], e["machine.edge-finder.repeat"] = "5mm", "0.005mm"
	}
	return e
}
