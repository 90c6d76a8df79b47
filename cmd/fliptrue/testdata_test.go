package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench"
)

const examples = "../../testdata"

// The example records mean what the README beside them says.
func TestExampleRecords(t *testing.T) {
	for _, c := range []struct {
		job, record string
		code        exit
		state, at   string
		named       string
		offset      bool
	}{
		{"back/back.job.yaml", "back/back.1.record.yaml", exitOK, "released", "", "", true},
		{"back/back.job.yaml", "back/back.2.record.yaml", exitOK, "released", "", "chip-in-bore", true},
		{"back-inch/back.job.yaml", "back-inch/back.1.record.yaml", exitOK, "released", "", "", true},
		{"lid/lid.job.yaml", "lid/lid.1.record.yaml", exitOK, "released", "", "", true},
		{"lid/lid.job.yaml", "lid/lid.2.record.yaml", exitNo, "held", "part-out", "chip-in-bore offset-slip seated-on-chip", false},
		{"tray/tray.job.yaml", "tray/tray.1.record.yaml", exitOK, "released", "", "", true},
		{"tray/tray.job.yaml", "tray/tray.2.record.yaml", exitNo, "held", "part-out", "chip-in-bore offset-slip seated-on-chip", false},
	} {
		var out, errs bytes.Buffer
		e := &env{out: &out, err: &errs, disk: jobs.OS()}
		o := replayOptions{job: filepath.Join(examples, filepath.FromSlash(c.job)), record: filepath.Join(examples, filepath.FromSlash(c.record)), asJSON: true}
		code, err := replay(e, o)
		if err != nil || code != c.code || errs.Len() > 0 {
			t.Errorf("%s: exit %d, error %v, said %s", c.record, code, err, errs.String())
			continue
		}
		var got replayJSON
		if err := json.Unmarshal(out.Bytes(), &got); err != nil {
			t.Fatal(err)
		}
		at := ""
		if got.HeldAt != nil {
			at = string(*got.HeldAt)
		}
		if got.State != c.state || at != c.at || strings.Join(got.Named, " ") != c.named || (got.Offset != nil) != c.offset {
			t.Errorf("%s: %s", c.record, out.String())
		}
		if (len(got.Features) == 2) != c.offset {
			t.Errorf("%s: features %v", c.record, got.Features)
		}
	}
}

// The good lid's offset, recomputed from the readings in its record by hand: the circle by
// repeated means over the six even hits, the edge by the sums of least squares; part zero
// 45, 20 moved by 0.02 toward left and away; the fixture grown by 70 - 11.7 ppm/K as far as
// the walls that hold the part, 45 along X and 84 along Y; exact at the middle of the
// features. Rounded to the readout's 0.001.
func TestExampleOffsetByHand(t *testing.T) {
	e := &env{disk: jobs.OS()}
	r, err := e.readRecord(filepath.Join(examples, "lid", "lid.job.yaml"), filepath.Join(examples, "lid", "lid.1.record.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	of, _ := bench.Known(&r.setups[0].state)
	want := [3]float64{-222.277, -145.224, -286.001}
	if of == nil || abs(of.X-want[0]) > 1e-9 || abs(of.Y-want[1]) > 1e-9 || abs(of.Z-want[2]) > 1e-9 {
		t.Errorf("offset %+v, want %v", of, want)
	}
}

func abs(x float64) float64 { return max(x, -x) }

// Every field that is printed stands in the page that says what it means.
func TestJSONIsDocumented(t *testing.T) {
	page, err := os.ReadFile(filepath.Join(examples, "JSON.md"))
	if err != nil {
		t.Fatal(err)
	}
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(k reflect.Type) {
		switch k.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array, reflect.Map:
			walk(k.Elem())
		case reflect.Struct:
			if seen[k] {
				return
			}
			seen[k] = true
			for i := range k.NumField() {
				name, _, _ := strings.Cut(k.Field(i).Tag.Get("json"), ",")
				if k.Field(i).Anonymous {
					walk(k.Field(i).Type)
				}
				if name == "" || name == "-" {
					continue
				}
				if len(name) > 1 && !strings.Contains(string(page), "`"+name+"`") && !strings.Contains(string(page), `"`+name+`"`) {
					t.Errorf("%s.%s is not said in JSON.md", k, name)
				}
				walk(k.Field(i).Type)
			}
		}
	}
	for _, v := range []any{circleJSON{}, lineJSON{}, planeJSON{}, sweepJSON{}, cornerJSON{}, replayJSON{}, bench.Result{}, checkJSON{}, cardCheck{}, reportJSON{}, listJSON{}, calcJSON{}, jobs.Fault{}} {
		walk(reflect.TypeOf(v))
	}
}
