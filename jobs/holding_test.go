package jobs

import (
	"strings"
	"testing"
)

const goodCut = "cut: {tool: 3, ae: 1, ap: 0.2, fz: 0.02}"

// What can't hold or can't stand is a fault at its own line and column.
func TestHoldingFaults(t *testing.T) {
	for _, c := range []struct{ name, file, old, new, want string }{
		{"unknown part material, nearest first", "lid.job.yaml", "material: walnut-stabilised", "material: walnut-stabilized-resin", `part.material: unknown material "walnut-stabilized-resin"; known, nearest first: walnut-stabilised, `},
		{"unknown fixture material", "lid.fixture.yaml", "material: acrylic-cast", "material: akrylic", `lid.fixture.yaml:4:11: material: unknown material "akrylic"; known, nearest first: `},
		{"negative diameter", "lid.job.yaml", "dia: 3.175, teeth", "dia: -3.175, teeth", `tools.3.dia: "-3.175" must be above 0`},
		{"zero washer", "lid.job.yaml", "washer: 5", "washer: 0", `setups.side2.screws.washer: "0" must be above 0`},
		{"screw on the bottom of its hole", "lid.job.yaml", "thread: M2, length: 8", "thread: M2, length: 10", `setups.side2.screws.length: "10" needs 6.2 mm of thread and the fixture card has 5 mm`},
		{"screw that engages nothing", "lid.job.yaml", "thread: M2, length: 8", "thread: M2, length: 3", `setups.side2.screws.length: "3" engages no thread`},
		{"clamps in each other", "lid.job.yaml", "[[88, 26], [146, 26]", "[[4, 26], [146, 26]", `setups.side2.clamps.right.outline: clamp "right" stands in clamp "left"`},
		{"clamp that is not convex", "lid.job.yaml", "[[-50, 26], [8, 26], [8, 38], [-50, 38]]", "[[-50, 26], [8, 26], [-20, 30], [8, 38], [-50, 38]]", `setups.side2.clamps.left.outline #3: outline is not convex at corner 3 (-20, 30); split it`},
		{"clamp off the table", "lid.job.yaml", goodCut, goodCut + ", table: [[-40, -50], [200, -50], [200, 120], [-40, 120]]", `setups.side2.clamps.left.outline: clamp "left" stands off the table`},
		{"obstacle in a clamp", "lid.job.yaml", goodCut, goodCut + ", obstacles: {stop: {outline: [[0, 30], [5, 30], [5, 35]], top: 30}}", `setups.side2.obstacles.stop.outline: obstacle "stop" stands in clamp "left"`},
		{"bolt", "lid.job.yaml", "bolt: M6", "bolt: six", `setups.side2.clamps.left.bolt: bolt "six" is not understood`},
		{"torque of another unit", "lid.job.yaml", "bolt: M6, torque: 1Nm},", "bolt: M6, torque: 25Nm},", `setups.side2.clamps.left.torque: "25Nm" stretches a bolt M6 for good`},
		{"no torque", "lid.job.yaml", "bolt: M6, torque: 1Nm},", "bolt: M6, torque: 0Nm},", `setups.side2.clamps.left.torque: "0Nm" must be above 0`},
		{"head that is no height", "lid.job.yaml", "thread: M2,", "thread: M2, head: -7.7,", `setups.side2.screws.head: "-7.7" must be above 0`},
		{"part of a ship", "lid.job.yaml", "size: [96, 64, 16]", "size: [96, 64, 9999]", `part.size #3: "9999" must be at most 5000 mm`},
		{"screw class", "lid.job.yaml", "thread: M2,", "thread: M2, class: A2,", `setups.side2.screws.class: unknown screw class "A2"; known, nearest first: A2-70`},
		{"tool of a region", "lid.job.yaml", "fz: 0.02}", "fz: 0.02, regions: {rim: {outline: [[0, 0], [9, 0], [9, 9]], lowest: 2, tool: 8}}}", `setups.side2.cut.regions.rim.tool: tool 8 is not in the tool list`},
		{"region that is not convex", "lid.job.yaml", "fz: 0.02}", "fz: 0.02, regions: {rim: {outline: [[0, 0], [9, 0], [2, 2], [0, 9]], lowest: 2}}}", `setups.side2.cut.regions.rim.outline #3: outline is not convex`},
		{"support that is not convex", "lid.fixture.yaml", "[[45, 20], [141, 20], [141, 32], [45, 32]]", "[[45, 20], [141, 20], [90, 25], [141, 32], [45, 32]]", `support #1 #3: outline is not convex`},
	} {
		_, fs := edited(t, c.file, c.old, c.new)
		if len(fs) == 0 {
			t.Errorf("%s: no fault", c.name)
			continue
		}
		hit := false
		for _, f := range fs {
			hit = hit || strings.Contains(f.Error(), c.want) && f.Line > 0 && f.Column > 0 && f.Hint != ""
		}
		if !hit {
			t.Errorf("%s: %v, want %s", c.name, fs, c.want)
		}
	}
}

// A material of the job's own is known, and its numbers stand in place of the shipped ones.
func TestOwnMaterials(t *testing.T) {
	j, fs := edited(t, "lid.job.yaml", "tools:", "materials: {resin-block: {crush: [20, 30], kc: 80, mc: 0.2, mu: 0.12, source: tested on scrap}}\ntools:")
	if len(fs) > 0 {
		t.Fatal(fs)
	}
	m, err := j.Library().Like("resin-block")
	if err != nil || m.Crush.Low != 20 || m.Crush.Nominal != 25 || m.Kc11.High != 80 || m.Mc != 0.2 || m.Shear.Known() || m.Crush.Source != "tested on scrap" {
		t.Errorf("%+v %v", m, err)
	}
	if _, fs = edited(t, "lid.job.yaml", "material: walnut-stabilised", "material: Walnut Stabilised"); len(fs) > 0 {
		t.Errorf("a name without its dash: %v", fs)
	}
	j, fs = edited(t, "lid.job.yaml", "tools:", "materials: {walnut-stabilised: {crush: 8, source: tested on scrap}}\ntools:")
	if m, err := j.Library().Like("walnut-stabilised"); len(fs) > 0 || err != nil || m.Crush.High != 8 || m.Kc11.High != 100 {
		t.Errorf("shipped row with one number replaced: %+v %v %v", m, err, fs)
	}
}
