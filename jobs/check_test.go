package jobs

import (
	"strings"
	"testing"
)

// What is said of the part's growth changes the numbers or is refused: grain, moisture and hours of a metal changed nothing.
func TestGrowthThatIsNoneIsRefused(t *testing.T) {
	const wood, metal, plastic = "material: walnut-stabilised", "material: aluminium-6061-t6", "material: acrylic-cast"
	for _, c := range []struct{ material, more, want string }{
		{metal, "grain: x", `part.grain: "aluminium-6061-t6" does not grow with its moisture, so it would change nothing; take it out`},
		{metal, "given: {moisture: {value: 8, source: meter}}", "part.given.moisture: "},
		{metal, "given: {hours: {value: 8, source: watch}}", "part.given.hours: "},
		{metal, "given: {humidity: {value: 45, source: hygrometer}}", "part.given.humidity: "},
		{plastic, "grain: y", "part.grain: "},
		{wood, "grain: up", "part.grain: "},
		{wood, "given: {humidity: {value: 0.45, source: hygrometer}}", `"0.45" is no humidity; give percent, 1 to 99`},
		{wood, "given: {moisture: {value: 80, source: meter}}", "is no moisture of wood"},
		{wood, "given: {temperature: {value: 80F, source: thermometer}, humidity: {value: 45, source: hygrometer}, moisture: {value: 8, source: meter}, hours: {value: 20, source: watch}}", ""},
		{wood, "grain: burl", ""},
		{plastic, "given: {humidity: {value: 45, source: hygrometer}}", ""},
	} {
		given := "given: {thickness: {value: 16.02, u: 0.01, source: calliper}"
		more := strings.TrimPrefix(c.more, "given: {")
		if more == c.more {
			more = given + "}, " + c.more
		} else {
			more = given + ", " + more
		}
		j, fs := edited(t, "lid.job.yaml", "material: walnut-stabilised, features: {hinge bore: [12, 52], far corner: [96, 64]},\n       "+given+"}", c.material+", "+more)
		if c.want == "" && len(fs) > 0 || c.want != "" && !strings.Contains(fs.Error(), c.want) {
			t.Errorf("%s, %s: %v", c.material, c.more, fs)
		}
		if g, ok := j.Part.Given["temperature"]; ok && (g.Value < 26.6 || g.Value > 26.7) {
			t.Errorf("80 F is %g C", g.Value)
		}
	}
}
