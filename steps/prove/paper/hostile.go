package paper

import (
	"fmt"
	"strings"

	"fliptrue/jobs"
)

// Evil are names that try to be more than names.
var Evil = []string{
	`<script>alert(1)</script>`, `"><img src=x onerror=alert(2)>`, `' onmouseover='alert(3)`, `</style><svg onload=alert(4)>`, "]]><!-- -->",
	"{{.Job}}", "javascript:alert(5)",
	"left\u202egnorw\u2066", "nul\x00bell\x07esc\x1b[31m", "&lt;b&gt; &amp; \u00a0", "\ufeffmark", "Ω≈ç√ 漢字 🔩", strings.Repeat("x", 300),
	strings.Repeat("wide name ", 30), strings.Repeat("שלום ", 60), "",
}

// Hostile gives a job 500 features, 40 clamps, and names that no file should hold.
func Hostile(j *jobs.Job) {
	n := 0
	name := func(what string) string {
		n++
		return fmt.Sprintf("%s %d %s", what, n, Evil[n%len(Evil)])
	}
	j.Name, j.Operator, j.Part.Stock, j.Fixture.ID, j.Fixture.Material, j.Machine.Name = name("job"), name("who"), name("stock"),
		name("fixture"), name("what of"), name("mill")
	j.Part.Features = nil
	for i := range 500 {
		j.Part.Features = append(j.Part.Features,
			jobs.Feature{Name: name("feature"), At: jobs.Point{X: float64(i%25) * 3.9, Y: float64(i/25) * 3.1}})
	}
	s := &j.Setups[len(j.Setups)-1]
	clamps := s.Clamps
	s.Clamps = nil
	for i := range 40 {
		c := clamps[i%len(clamps)]
		c.Name = name("clamp")
		s.Clamps = append(s.Clamps, c)
	}
	for k, tool := range j.Tools {
		tool.Name = name("tool")
		j.Tools[k] = tool
	}
	for i := range s.Programs {
		s.Programs[i].File = name("file")
	}
}
