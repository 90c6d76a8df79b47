package main

import (
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/report"
)

// walkedShop is a shop in which tram, ball, side 1 and side 2 were walked into one record, one after the other.
func walkedShop(t *testing.T) (*env, *jobs.MemDisk) {
	t.Helper()
	e, disk := severalShop(t)
	for range 4 {
		walkNext(t, e, 5)
	}
	return e, disk
}

// What a use found of its fixture is kept on its card at the release, and the next sheet has it.
func TestReleaseKeepsWhatWasFound(t *testing.T) {
	e, disk := walkedShop(t)
	card, faults := jobs.ReadFixture(disk, "pl-2.fixture.yaml")
	if len(faults) > 0 || len(card.History) != 1 {
		t.Fatal(card.History, faults)
	}
	_, out, err := e.reported(reportOptions{job: builtin.JobFile, record: "back.1.record.yaml"})
	if err != nil {
		t.Fatal(err)
	}
	uses := out.Record.Uses
	if len(uses) != 1 || uses[0].Key != "back.1" {
		t.Fatalf("uses %+v", uses)
	}
	this, kept := uses[0], report.UseFrom(card.History[0])
	for name, v := range map[string][2]*float64{"skew": {this.Skew, kept.Skew}, "lift": {this.Lift, kept.Lift}, "tilt": {this.Tilt, kept.Tilt},
		"dia": {this.Dia, kept.Dia}, "mismatch": {this.Mismatch, kept.Mismatch}, "guard": {this.Guard, kept.Guard}} {
		if name == "lift" && v[0] == nil && v[1] == nil {
			continue // at a level the shift test alone looks whether it rose
		}
		if v[0] == nil || v[1] == nil || math.Abs(*v[0]-*v[1]) > 6e-5 {
			t.Errorf("%s: found %v, on the card %v", name, v[0], v[1])
		}
	}
	if kept.Date != this.Date || kept.Date == "" || *kept.Dia < 7.9 || *kept.Guard <= 0 {
		t.Errorf("kept %+v of %+v", kept, this)
	}
	if out.Tag.Uses != 1 || out.Tag.Cycles != card.Threads.Cycles {
		t.Errorf("the tag has %d uses and %d cycles, the card %d", out.Tag.Uses, out.Tag.Cycles, card.Threads.Cycles)
	}
	// The card lost since, the record still tells.
	disk.Put("pl-2.fixture.yaml", "broken: {")
	if _, again, err := e.reported(reportOptions{record: "back.1.record.yaml"}); err != nil || again.Tag.Uses != 1 || again.Tag.Cycles != 5 {
		t.Errorf("without its card: %+v, %v", again.Tag, err)
	}
}

// Each kind of setup says what it is about, and nothing that it has not.
func TestReportOfEachKind(t *testing.T) {
	e, _ := walkedShop(t)
	for setup, c := range map[string]struct{ has, not []string }{
		"head":  {[]string{"found ---", "spindle to table, along X"}, []string{"fixture", "floating", "offset", "T3", "thickness", "register", "bore", "0.0000 mm"}},
		"ring":  {[]string{"found ---", "ball radius, hits along X"}, []string{"fixture", "floating", "offset", "T3", "thickness", "register"}},
		"side1": {[]string{"G55 ", "width X", "measured here", "T3"}, []string{"fixture", "floating", "register", "PL-2", "moved since"}},
		"side2": {[]string{"G54 ", "width X", "width Y", "measured on side 1", "fixture PL-2", "moved since the baseline", "FIXTURE PL-2"}, []string{"floating", "0 T", "current"}},
	} {
		code, out, err := e.reported(reportOptions{record: "back.1.record.yaml", setup: setup})
		if err != nil || code != exitOK {
			t.Fatal(setup, code, err)
		}
		text := out.Record.Text()
		if out.Tag != nil {
			text += out.Tag.Text()
		}
		for _, w := range c.has {
			if !strings.Contains(text, w) {
				t.Errorf("%s: the page has no %q\n%s", setup, w, text)
			}
		}
		for _, w := range c.not {
			if strings.Contains(text, w) {
				t.Errorf("%s: the page has %q\n%s", setup, w, text)
			}
		}
		if lines := strings.Split(text, "\n"); slices.ContainsFunc(lines, func(l string) bool { return len([]rune(l)) > 90 }) || len(lines) > 85 {
			t.Errorf("%s: %d lines are no page\n%s", setup, len(lines), text)
		}
	}
	if code, _, err := e.reported(reportOptions{record: "back.1.record.yaml", setup: "ring", tag: true}); code != exitUsage || err == nil {
		t.Errorf("the tag of a ring gauge: exit %d, %v", code, err)
	}
}

// The tag alone is true whether the card was written or not.
func TestTagAfterRelease(t *testing.T) {
	e, _, _ := shop(t)
	dir := "p"
	if code, err := practice(e, practiceOptions{holdDown: "T", setup: "second-side", seed: 1, auto: true, out: dir}); code != exitOK || err != nil {
		t.Fatal(code, err)
	}
	job := filepath.Join(dir, builtin.JobFile)
	for _, o := range []reportOptions{{job: job, tag: true}, {job: job, record: filepath.Join(dir, "back.1.record.yaml"), tag: true}, {record: filepath.Join(dir, "back.1.record.yaml"), tag: true}} {
		_, out, err := e.reported(o)
		if err != nil || out.Tag.Uses != 1 || out.Tag.Cycles != 5 {
			t.Errorf("%+v: %+v, %v", o, out.Tag, err)
		}
	}
}
