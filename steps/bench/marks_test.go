package bench

import (
	"slices"
	"strings"
	"testing"

	"fliptrue/steps/bench/builtin"
)

// marks say where each mistake that a kind of setup alone has is caught: at which limit or answer of which step. What is made
// elsewhere has its own test: inChain what happens between two setups (TestWhatMovedInTheCut), inRescue what follows on a part that let
// go (steps/rescue).
var marks = map[string]map[string]string{
	"ball":       {"chip-in-ring": "ball:ball.ring", "loose-stylus": "ball:ball.repeat", "other-ring": "ball:ball.ring"},
	"tram":       {"head-nodded": "tram:tram.tilt.x", "chip-on-table": "tram:tram.redundancy", "arm-slipped": "tram:tram.closing"},
	"first-side": {"stock-short": "stock:stock.size", "lifted-in-vise": "grip:loose", "little-grip": "grip:grip.height", "stored-bow": "open:spring"},
	"fixture": {"blank-uneven": "blank:making.blank", "blank-bowed": "blank:making.bolt", "blank-warm": "rough:making.rest",
		"finisher-off": "bores:making.small", "pad-off": "pads:making.pads", "burr-on-pad": "pads:making.pads", "pad-leans": "pads:making.taper",
		"chain-broken": "bores:making.bias", "floor-crowned": "heights:making.floor", "plate-sprung": "spring:making.spring",
		"part-rocks": "fit:making.rock", "thread-weak": "threads:hold.retention"},
	"inspect": {"dial-backwards": "steps:inspect.scale", "odd-step": "steps:inspect.odd", "part-warm": "bench:inspect.warm",
		"cavity-off": "walls:inspect.cavity", "hole-off": "holes:inspect.hole.dial-opening.x", "side-off": "walls:inspect.wall.right",
		"moved-in-cut": inChain, "pulled-in-cut": inChain},
	"reuse": {"wrong-fixture": "back:id", "boss-crazed": "look:crazed", "not-this-fixture": "scale:reuse.grown", "bore-worn": "scale:reuse.bore",
		"edge-nicked": "line:reuse.line", "floor-warped": "floor-now:reuse.form", "thread-soft": "proof:soft", "part-jams": "dry-fit:goes"},
	"rescue": {"shift-live": inRescue, "gouged": inRescue, "not-held": inRescue, "fixture-moved": inRescue, "wrong-line": inRescue,
		"scrapped": inRescue, "cut-too-late": inRescue, "line-of-another-pass": inRescue},
	"dowel-flip": {"pin-bent": "pins:dowel.lean", "pin-small": "bore:bore.size|bore:bore.radius", "holes-apart": "reamed:dowel.apart", "hole-wide": "reamed:dowel.play.1",
		"pins-not-pushed": "seat:pushed"},
	"soft-jaws": {"jaws-lift": "close:jaws.rise", "wall-squeezed": "close:jaws.wall", "nest-wide": "grip:jaws.nest", "jaws-repeat": "again:jaws.repeat",
		"jaws-slack": "skim:firm", "chip-at-stop": "bore:stops.repeat", "stop-gives": "bore:stops.repeat", "off-its-stop": "seat:walls"},
	"stops":  {"chip-at-stop": "bore:stops.repeat|bore:bore.skews", "stop-gives": "bore:stops.repeat", "off-its-stop": "seat:walls"},
	"vacuum": {"seal-leaks": "hold:hold.leak", "pump-weak": "hold:hold.gate", "hold-lost": "skim:firm", "drawn-askew": "hold:hold.move"},
	"tape": {"tape-dirty": "hold:clean", "film-short": "hold:covers", "film-not-pressed": "hold:hold.pressed", "film-hot": "hold:hold.warm",
		"hold-lost": "skim:firm", "drawn-askew": "hold:hold.move"},
}

const inChain, inRescue = "chain", "rescue"

// ownIn are the mistakes that a plan has beside the usual ones.
func ownIn(ms []Mistake) (out []Mistake) {
	for _, m := range ms {
		if !slices.ContainsFunc(mistakes, func(x Mistake) bool { return x.Name == m.Name }) {
			out = append(out, m)
		}
	}
	return out
}

// Every kind of setup has at least three mistakes of its own, and each is caught at its mark, in mm and in inches, where the same bench
// without it passes.
func TestEachKindsMistakesAtTheirMarks(t *testing.T) {
	for _, kind := range builtin.Kinds() {
		if kind == "whole" || kind == builtin.Kinds()[0] {
			continue
		}
		for _, name := range []string{kind, builtin.InInches(kind)} {
			j, err := builtin.Job(name)
			if err != nil {
				t.Fatal(err)
			}
			p := plan(t, j, j.Setups[0].Name)
			ms := ownIn(MistakesIn(p))
			if kind == "rescue" {
				ms = OwnMistakes(kind)
			}
			if len(ms) < 3 || len(ms) != len(marks[kind]) {
				t.Errorf("%s has %d mistakes of its own, %d marks", kind, len(ms), len(marks[kind]))
			}
			for _, m := range ms {
				mark := marks[kind][m.Name]
				if mark == inChain || mark == inRescue {
					continue
				}
				for seed := uint64(1); seed <= 2; seed++ {
					if at := failedAt(auto(t, p, Options{Seed: seed})); met(at, mark) {
						continue // it fails there without it
					}
					r := auto(t, p, Options{Seed: seed, Mistake: m.Name})
					if at := failedAt(r); !met(at, mark) {
						t.Errorf("%s, seed %d: %s is not met at %q but at %q, %s", name, seed, m.Name, mark, at, r.State)
					}
				}
			}
		}
	}
}

// met says that a walk failed at a mark, | between several.
func met(at []string, mark string) bool {
	return slices.ContainsFunc(strings.Split(mark, "|"), func(m string) bool { return slices.Contains(at, m) })
}

func failedAt(r *Result) (out []string) {
	for _, f := range r.Walk.Failed {
		out = append(out, string(f.Step)+":"+f.Limit)
	}
	return out
}
