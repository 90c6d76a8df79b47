package main

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/prove/paper"
	"fliptrue/steps/report"
)

// printedOf is what a command printed.
func printedOf(t *testing.T, world *env, args ...string) []byte {
	t.Helper()
	var out, errs bytes.Buffer
	e := *world
	e.out, e.err = &out, &errs
	if code := run(&e, args); code > exitNo {
		t.Fatalf("%v: exit %d, %s", args, code, errs.String())
	}
	return out.Bytes()
}

// sound wants the sheet of a record to be valid and to say what replay says. places have to stand on it.
func sound(t *testing.T, e *env, name string, args []string, places ...string) {
	t.Helper()
	page := printedOf(t, e, append([]string{"report", "--html"}, args...)...)
	for _, w := range paper.Valid(page) {
		t.Errorf("%s: %s", name, w)
	}
	said, err := paper.Numbers(page, printedOf(t, e, append([]string{"replay", "--json"}, args...)...))
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range said.Wrong {
		t.Errorf("%s: %s", name, w)
	}
	for _, p := range places {
		if said.At[p] == 0 {
			t.Errorf("%s: %s is not on the sheet", name, p)
		}
	}
	if len(said.At) < 5 {
		t.Errorf("%s: %d numbers are no sheet", name, len(said.At))
	}
}

// Every number on a sheet is the one that replay --json prints, of each kind of setup, in mm and in inches, released and held.
func TestSheetSaysWhatReplaySays(t *testing.T) {
	e, _ := walkedShop(t)
	always := []string{"sheet.offset.x", "sheet.offset.y", "sheet.offset.z"}
	second := append([]string{"sheet.register.0.error.0", "sheet.register.1.U.1", "sheet.uses.0.mismatch", "tag.cycles", "sheet.datum.x", "sheet.datum.z", "sheet.plots.0.most", "sheet.plots.1.limit",
		"sheet.sizes.1.value", "sheet.shift.dx", "sheet.worst.limit"}, always...)
	for setup, places := range map[string][]string{"side2": second, "side1": append([]string{"sheet.sizes.3.value", "sheet.tools.0.length"}, always...),
		"head": {"sheet.results.0.value", "sheet.results.3.value"}, "ring": {"sheet.results.0.value", "sheet.results.4.value"}} {
		sound(t, e, setup, []string{"--setup", setup, "back.1.record.yaml"}, places...)
	}
	e = &env{disk: jobs.OS(), ownInterrupts: func() {}}
	for _, r := range []string{"lid/lid.1", "lid/lid.2", "tray/tray.1", "tray/tray.2"} {
		job := filepath.Join(examples, filepath.FromSlash(r[:strings.LastIndexByte(r, '.')])+".job.yaml")
		var places []string
		if r == "lid/lid.1" {
			places = []string{"sheet.plots.2.values.0"} // hits all round a bore
		}
		sound(t, e, r, []string{job, filepath.Join(examples, filepath.FromSlash(r)+".record.yaml")}, places...)
	}
}

// What the sheet has of offset and features is what replay found by itself.
func TestSheetIsReplay(t *testing.T) {
	e, _ := walkedShop(t)
	var got struct {
		Offset   *struct{ X, Y, Z float64 }
		Features []struct {
			Name     string
			Error, U struct{ X, Y float64 }
		}
		Sheet report.Record
	}
	if err := json.Unmarshal(printedOf(t, e, "replay", "--json", "back.1.record.yaml"), &got); err != nil {
		t.Fatal(err)
	}
	o := got.Sheet.Offset
	if o == nil || o.X != got.Offset.X || o.Y != got.Offset.Y || o.Z != got.Offset.Z {
		t.Errorf("offset %+v, replay has %+v", o, got.Offset)
	}
	if len(got.Features) != 2 || len(got.Sheet.Register) != 2 {
		t.Fatalf("features %v", got.Features)
	}
	for i, f := range got.Sheet.Register {
		if r := got.Features[i]; f.Name != r.Name || f.Error != [2]float64{r.Error.X, r.Error.Y} || f.U != [2]float64{r.U.X, r.U.Y} {
			t.Errorf("feature %+v, replay has %+v", f, r)
		}
	}
}

// A sheet is written over a sheet, and over nothing else.
func TestSheetIsWritten(t *testing.T) {
	e, disk := walkedShop(t)
	for range 2 {
		if out := printedOf(t, e, "report", builtin.JobFile, "sheet.html"); string(out) != "sheet.html\n" || !strings.HasPrefix(disk.Text("sheet.html"), report.SheetStart) {
			t.Fatalf("said %s, wrote %.40q", out, disk.Text("sheet.html"))
		}
	}
	disk.Put("notes.html", "<p>mine</p>")
	for _, path := range []string{"notes.html", builtin.JobFile, "back.1.record.yaml"} {
		was := disk.Text(path)
		world := *e
		world.out, world.err = &bytes.Buffer{}, &bytes.Buffer{}
		if code := run(&world, []string{"report", builtin.JobFile, "--html", "--out", path}); code != exitDisk || disk.Text(path) != was {
			t.Errorf("%s: exit %d, holds %.20q", path, code, disk.Text(path))
		}
	}
}

// All readings are in the table, each with its address.
func TestReadingsAsTable(t *testing.T) {
	e, disk := walkedShop(t)
	es, _, _ := jobs.ReadRecord(disk, "back.1.record.yaml")
	lines := string(printedOf(t, e, "report", "--csv", "back.1.record.yaml"))
	n := 0
	for _, ev := range es {
		if a := ev.Read + ev.Answer; a != "" {
			n++
			if !strings.Contains(lines, "\n"+a+",") {
				t.Errorf("%s is not in the table", a)
			}
		}
	}
	if got := strings.Count(lines, "\n") - 1; got > n || got < n*9/10 { // one read again stands once, with what it replaced
		t.Errorf("%d lines of %d readings", got, n)
	}
	if !strings.HasPrefix(lines, "address,value,unit,at,place,by,label,replaced\n") {
		t.Errorf("begins %.60q", lines)
	}
}
