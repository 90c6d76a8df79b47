package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/bench/builtin"
	"fliptrue/steps/fold"
	"fliptrue/steps/prove/paper"
)

// pageOf is the sheet of a record, and the JSON that it goes by.
func pageOf(t *testing.T, r Record, tag *Tag) (page, printed []byte) {
	t.Helper()
	var b bytes.Buffer
	if err := r.HTML(&b, tag); err != nil {
		t.Fatal(err)
	}
	r.Readings = nil
	data, err := json.Marshal(map[string]any{"sheet": r, "tag": tag})
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes(), data
}

func sound(t *testing.T, what string, r Record, tag *Tag) paper.Said {
	t.Helper()
	page, printed := pageOf(t, r, tag)
	said, err := paper.Numbers(page, printed)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range append(paper.Valid(page), said.Wrong...) {
		t.Errorf("%s: %.300s", what, w)
	}
	return said
}

// hostile is a job of 500 features, 40 clamps and names that no file should hold.
func hostile(t *testing.T, holdDown string) *fold.Plan {
	t.Helper()
	j, err := builtin.Job(holdDown)
	if err != nil {
		t.Fatal(err)
	}
	paper.Hostile(j)
	p, err := steps.NewPlan(j, j.Setups[0].Name, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Whatever a job calls its things, the sheet stays a sheet, says every number, and nothing of it runs.
func TestHostileSheet(t *testing.T) {
	p := hostile(t, "T")
	k := bench.NewWalk(p, bench.NewWorld(p, 7, bench.Usual(p)), nil)
	if _, err := k.Until(func(st *fold.State) bool { _, ok := st.Fact("seat"); return ok }); err != nil {
		t.Fatal(err)
	}
	es := slices.Clone(k.Events)
	for _, e := range paper.Evil {
		es = append(es, jobs.Event{Note: e})
	}
	for range 30 {
		es = append(es, jobs.Event{Mishap: "side2/tool-pulled"})
	}
	r := Make(logOf(es), p, About{Part: 1, Record: "a<b>.record.yaml", Version: `"v"`})
	tag, _ := MakeTag(p, &p.Job.Fixture, 0)
	if len(r.Register) != 500 {
		t.Fatalf("%d features", len(r.Register))
	}
	said := sound(t, "hostile", r, &tag)
	for i := range 500 {
		for a := range 2 {
			for _, of := range []string{fmt.Sprintf("sheet.register.%d.error.%d", i, a), fmt.Sprintf("sheet.register.%d.U.%d", i, a)} {
				if said.At[of] == 0 {
					t.Fatalf("%s is lost", of)
				}
			}
		}
	}
	page, _ := pageOf(t, r, &tag)
	for _, bad := range []string{"\u202e", "\u2066", "\x00", "\x1b", "\ufeff"} {
		if bytes.Contains(page, []byte(bad)) {
			t.Errorf("the page has %q", bad)
		}
	}
	for _, f := range r.Register { // no name is lost, however long
		if want := plain(f.Name); !strings.Contains(textOf(page), strings.Join(strings.Fields(want), " ")) {
			t.Fatalf("%q is lost", want)
		}
	}
	if p := r.page(&tag); p.FigureH < 40 || len(p.Rest) == 0 {
		t.Errorf("a first page with %.0f mm of drawings and %d parts behind it", p.FigureH, len(p.Rest))
	}
}

// textOf is a page's text without its tags.
func textOf(page []byte) string {
	s := string(page)
	var b strings.Builder
	for s != "" {
		i := strings.IndexByte(s, '<')
		if i < 0 {
			i = len(s)
		}
		b.WriteString(s[:i])
		if s = s[i:]; s != "" {
			s = s[strings.IndexByte(s, '>')+1:]
		}
	}
	return strings.Join(strings.Fields(strings.NewReplacer("&lt;", "<", "&gt;", ">", "&#34;", `"`, "&#39;", "'", "&amp;", "&", "&#43;", "+", "\u00a0", " ").Replace(b.String())), " ")
}

// An ordinary part fits its page, in each plan and when it is held.
func TestOnePage(t *testing.T) {
	for _, plan := range []string{"T", "M", "S"} {
		l, p := walked(t, plan, "")
		r := Make(l, p, About{Part: 4, Record: "back.4.record.yaml", Version: "abc"})
		tag, _ := MakeTag(p, &p.Job.Fixture, 1)
		sound(t, plan, r, &tag)
		if q := r.page(&tag); len(q.Rest) > 0 || q.FigureH < 48 {
			t.Errorf("plan %s: %.0f mm of drawings; behind the page: %+v", plan, q.FigureH, q.Rest)
		}
	}
	l, p := walked(t, "T", "chip-in-bore", jobs.Event{Note: "spanner slipped"}, jobs.Event{Mishap: "side2/fixture-tapped"})
	r := Make(l, p, About{Part: 1})
	sound(t, "held", r, nil)
	begun := Make(logOf([]jobs.Event{{Begin: "side2"}}), p, About{})
	page, _ := pageOf(t, begun, nil)
	for _, w := range paper.Valid(page) {
		t.Error(w)
	}
}
