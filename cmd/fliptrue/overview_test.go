package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/prove/paper"
	"fliptrue/steps/report"
)

// folderOf is a folder of the example job with so many records of its released part.
func folderOf(t testing.TB, n int) *env {
	t.Helper()
	disk := jobs.Mem(nil)
	for _, name := range []string{"lid.job.yaml", "lid.fixture.yaml", "bench.machine.yaml", "holes.nc", "top.nc"} {
		data, err := jobs.OS().Read(filepath.Join(examples, "lid", name), maxProgram)
		if err != nil {
			t.Fatal(err)
		}
		disk.Put("shop/"+name, string(data))
	}
	record, err := jobs.OS().Read(filepath.Join(examples, "lid", "lid.1.record.yaml"), maxProgram)
	if err != nil {
		t.Fatal(err)
	}
	for i := range n {
		day := time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, i).Format(time.DateOnly)
		disk.Put(fmt.Sprintf("shop/lid.%d.record.yaml", i+1), strings.ReplaceAll(string(record), "2026-03-01", day))
	}
	return &env{disk: disk, out: &bytes.Buffer{}, err: &bytes.Buffer{}, ownInterrupts: func() {},
		now: func() time.Time { return time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC) }}
}

// BenchmarkOverview is the page over 200 records of one job; a second at most.
func BenchmarkOverview(b *testing.B) {
	e := folderOf(b, 200)
	b.ResetTimer()
	for b.Loop() {
		if o, err := e.overview("shop"); err != nil || len(o.Parts) != 200 {
			b.Fatal(len(o.Parts), err)
		}
	}
}

// BenchmarkSheet is the sheet of the lid from its record on the disk to the page; 50 ms at most.
func BenchmarkSheet(b *testing.B) {
	e := folderOf(b, 1)
	for b.Loop() {
		_, out, err := e.reported(reportOptions{job: "shop/lid.job.yaml", record: "shop/lid.1.record.yaml"})
		if err != nil {
			b.Fatal(err)
		}
		if err := out.html(&bytes.Buffer{}); err != nil {
			b.Fatal(err)
		}
	}
}

// A folder's page has each part by date, its numbers as its JSON says, the fixture's uses whether its card has them or
// not, and what is due.
func TestOverview(t *testing.T) {
	e := folderOf(t, 12)
	o, err := e.overview("shop")
	if err != nil || len(o.Parts) != 12 || len(o.Fixtures) != 1 || len(o.Fixtures[0].Uses) != 12 || o.Fixtures[0].Cycles != 15 {
		t.Fatalf("%+v, %v", o, err)
	}
	for i, p := range o.Parts {
		if p.Part != i+1 || p.State != "released" || p.Mismatch == nil || *p.U <= 0 {
			t.Errorf("part %d: %+v", i, p)
		}
	}
	text := o.Text()
	for _, w := range []string{"2026-03-01 10:25 compass-box lid, part 1, side2: released", "2026-03-12 ", "threads: 15 of 10 cycles", "fixture FX-3"} {
		if !strings.Contains(text, w) {
			t.Errorf("no %q in\n%s", w, text)
		}
	}
	page := printedOf(t, e, "report", "--html", "shop")
	said, err := paper.Numbers(page, printedOf(t, e, "report", "--json", "shop"))
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range append(paper.Valid(page), said.Wrong...) {
		t.Error(w)
	}
	if said.At["parts.11.mismatch"] != 1 || said.At["fixtures.0.uses.11.dia"] != 1 {
		t.Errorf("on the page: %v", said.At)
	}
}

// What the card has of a use, and a record too, is one use; a record that cannot be followed is said to be so.
func TestOverviewOfWrittenUses(t *testing.T) {
	e, disk := walkedShop(t)
	disk.Put("back.2.record.yaml", "--- {format: 1}\n--- {at: never}\n")
	o, err := e.overview(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range o.Fixtures {
		if len(f.Uses) != 1 || f.Cycles != 5 {
			t.Errorf("fixture %+v", f)
		}
	}
	broken := 0
	for _, p := range o.Parts {
		if p.Record == "back.2.record.yaml" && p.State != "released" && p.State != "held" {
			broken++
		}
	}
	if broken != 1 || len(o.Parts) != 5 {
		t.Errorf("parts %+v", o.Parts)
	}
	_, _ = builtin.JobFile, report.SheetStart
}
