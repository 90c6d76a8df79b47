package jobs

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// Every key says what it means, and its example reads.
func TestEveryKeyIsExplained(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range Keys() {
		at := k.File + " " + k.Path
		if seen[at] {
			t.Errorf("%s stands twice", at)
		}
		seen[at] = true
		if !strings.HasSuffix(k.Means, ".") || k.Takes == "" || strings.ContainsAny(k.Means+k.Sign, "\n|") {
			t.Errorf("%s: means %q, takes %q", at, k.Means, k.Takes)
		}
		if k.Example == "" && !k.Group {
			t.Errorf("%s has no example", at)
		}
		if signed := k.Sign != ""; !signed && strings.Contains(k.Takes, "slope") {
			t.Errorf("%s: a slope without a sign", at)
		}
	}
	if len(seen) < 150 {
		t.Errorf("%d keys", len(seen))
	}
	if got := SetupKinds(); !slices.Equal(got, []string{"first-side", "second-side", "dowel-flip", "soft-jaws", "inspect", "fixture", "reuse", "ball", "tram"}) {
		t.Errorf("kinds %q", got)
	}
}

// An example in place of the value in a good file leaves no fault in that value.
func TestExamplesRead(t *testing.T) {
	files := map[string]string{"job": "lid.job.yaml", "machine": "bench.machine.yaml", "fixture": "lid.fixture.yaml"}
	d := diskOf(t, "testdata/lid.job.yaml", "testdata/bench.machine.yaml", "testdata/lid.fixture.yaml")
	for _, k := range Keys() {
		name, ok := files[k.File]
		if !ok || k.Example == "" || strings.Contains(k.Example, "...") || k.Path == "setups.NAME.vise" || strings.Contains(k.Only, "first-side") {
			continue
		}
		path := strings.NewReplacer("setups.NAME", "setups.side2", "clamps.NAME", "clamps.left", "given.NAME", "given.thickness", "tools.N", "tools.3", "NAME", "thing").Replace(k.Path)
		r := newReader(name)
		root, _ := parseTree(name, []byte(d.Text("testdata/"+name)))
		doc, faults := parseTree("example", []byte("x: "+k.Example+"\n"))
		if len(faults) > 0 {
			t.Errorf("%s %s: %v", k.File, k.Path, faults)
			continue
		}
		graft(root, strings.Split(path, "."), child(doc, "x"))
		var into any
		switch k.File {
		case "job":
			into = &Job{}
		case "machine":
			into = &Machine{}
		case "fixture":
			into = &Fixture{}
		}
		r.fill(root, into)
		for _, f := range r.faults {
			if strings.Contains(f.What, strings.TrimSuffix(label(path), ": ")) && !strings.Contains(f.What, "is missing") && !strings.Contains(f.What, "has no place") {
				t.Errorf("%s %s: the example %s: %v", k.File, k.Path, k.Example, f)
			}
		}
	}
}

// graft puts a value at a path of a tree, making the groups on the way.
func graft(n *yamlNode, path []string, v *yamlNode) {
	c := child(n, path[0])
	if c == nil || len(path) == 1 {
		c = &yamlNode{Kind: mappingNode, Tag: "!!map"}
		if len(path) == 1 {
			c = v
		}
		if i := slices.IndexFunc(n.Content, func(k *yamlNode) bool { return k.Value == path[0] }); i >= 0 {
			n.Content[i+1] = c
		} else {
			n.Content = append(n.Content, &yamlNode{Kind: scalarNode, Tag: "!!str", Value: path[0]}, c)
		}
	}
	if len(path) > 1 {
		graft(c, path[1:], v)
	}
}

// plainJSON is a decoded document as JSON has it.
func plainJSON(v any) any {
	switch x := v.(type) {
	case map[string]any:
		for k := range x {
			x[k] = plainJSON(x[k])
		}
	case map[any]any:
		out := map[string]any{}
		for k := range x {
			out[fmt.Sprint(k)] = plainJSON(x[k])
		}
		return out
	case []any:
		for i := range x {
			x[i] = plainJSON(x[i])
		}
	case int:
		return float64(x)
	case time.Time:
		return x.Format(time.DateOnly)
	}
	return v
}

func schemaOf(t *testing.T, file string) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema(file)))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(file, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(file)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The schema takes what the reader takes, by a validator that shares no code with either,
// and refuses the mistakes that an editor can show while one types.
func TestSchema(t *testing.T) {
	valid := func(file string, text []byte) error {
		var doc any
		if err := newDecoder(text).Decode(&doc); err != nil {
			t.Fatal(err)
		}
		return schemaOf(t, file).Validate(plainJSON(doc))
	}
	good := map[string][]string{
		"job":     {"testdata/lid.job.yaml", "testdata/inch.job.yaml", "../testdata/lid/lid.job.yaml", "../testdata/tray/tray.job.yaml"},
		"machine": {"testdata/bench.machine.yaml", "testdata/calibrated.machine.yaml", "testdata/inch.machine.yaml", "../testdata/tray/knee.machine.yaml"},
		"fixture": {"testdata/lid.fixture.yaml", "testdata/released.fixture.yaml", "testdata/inch.fixture.yaml", "../testdata/tray/tray.fixture.yaml"},
	}
	for file, paths := range good {
		for _, p := range paths {
			b, err := os.ReadFile(filepath.FromSlash(p))
			if err != nil {
				t.Fatal(err)
			}
			if err := valid(file, b); err != nil {
				t.Errorf("%s: %v", p, err)
			}
		}
	}
	for file, text := range map[string][]byte{"job": NewJob(Answers{}), "machine": NewMachine(Answers{Probe: true}), "fixture": NewFixture(Answers{})} {
		if err := valid(file, text); err != nil {
			t.Errorf("a new %s: %v", file, err)
		}
	}
	job, err := os.ReadFile("testdata/lid.job.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range [][2]string{
		{"allowance:", "allowanze:"}, {"hold-down: T", "hold-down: Q"}, {"size: [96, 64, 16]", "size: [96, 64]"},
		{"kind: second-side", "kind: first-side"}, {"flip: x", "note: x"}, {"material: walnut-stabilised", "colour: brown"},
	} {
		bad := strings.Replace(string(job), c[0], c[1], 1)
		if bad == string(job) {
			t.Fatalf("the job has no %q", c[0])
		}
		if err := valid("job", []byte(bad)); err == nil {
			t.Errorf("%q in place of %q passes", c[1], c[0])
		}
	}
}
