package rescue_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/bench"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
)

// A part that bears on no wall and has no witness set is no dead end: it is anywhere in its play, before and after. That is far more
// than a step where the cut goes on may be, and the register, which counts the play as clearance, is told only what a place at a wall is more.
func TestALoosePartWithoutASet(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) {
		i := slices.IndexFunc(j.Setups, func(s jobs.Setup) bool { return s.Second() })
		j.Setups[i].Floating, j.Setups[i].Against = true, nil
	})
	room := p.Job.Fixture.Pocket.Clearance
	o := judged(t, p, "find", []fold.Known{oldOffset}, [2]string{"faces", "0"}, [2]string{"inside", "yes"})
	m, ok := facts.Shift.Of("moved").By(o.Fact)
	s, _ := facts.Shift.By(o.Fact)
	if !ok || m.DX != 0 || m.DY != 0 || len(o.Next) != 0 || !strings.Contains(strings.Join(o.Notes, " "), "bears on no wall") {
		t.Fatalf("%+v", o)
	}
	u := math.Sqrt(m.Cov.Matrix("dx", "dy", "rot")[0][0])
	if u < 0.5*room || u > 2*room || math.Abs(s.Cov.Matrix("dx", "dy", "rot")[0][0]-u*u/2) > 1e-12 {
		t.Errorf("u %g, play %g; %+v", u, room, s)
	}
	if o := judged(t, p, "find", []fold.Known{oldOffset}, [2]string{"faces", "0"}, [2]string{"inside", "no"}); len(o.Next) != 2 || o.Next[0].Do != "wipe" {
		t.Errorf("%+v", o.Next)
	}
	// As it was answered before this was asked.
	old := judged(t, p, "find", []fold.Known{oldOffset}, [2]string{"faces", "0"}, [2]string{"seated", "yes"})
	if k, _ := facts.Shift.Of("moved").By(old.Fact); math.Abs(math.Sqrt(k.Cov.Matrix("dx", "dy", "rot")[0][0])-0.006) > 1e-9 {
		t.Errorf("%+v", k)
	}
	offset := judged(t, p, "offset", []fold.Known{oldOffset, facts.Shift.Of("moved").Is(m), facts.Shift.Is(s)}, [2]string{"pause", "G54"},
		[2]string{"x", "-223.015"}, [2]string{"y", "-139.141"}, [2]string{"z", "-229.690"}, [2]string{"left", "0"}, [2]string{"z0", "floor"})
	i := slices.IndexFunc(offset.Checks, func(c fold.Check) bool { return c.Limit.ID == "rescue.step" })
	if i < 0 || offset.Checks[i].Verdict == fold.Pass || !strings.Contains(offset.Checks[i].Words, "Find it again by faces") {
		t.Errorf("%+v", offset.Checks)
	}
}

// At level proven no length is read, and a cutter that was pulled is none that was: the act before the restart says to look at the gap.
func TestTheHeightOfTheRestartIsLookedAt(t *testing.T) {
	for _, c := range []struct {
		level fold.Level
		tool  string
		says  string
	}{{fold.Proven, "", "No length of T3 was read here. Single block"}, {fold.Irreplaceable, "", ""},
		{fold.Irreplaceable, "pulled from its collet", "T3 is not as long as it was"}} {
		p := planOf(t, "T", nil).AtLevel(c.level)
		k := bench.NewWalk(p, bench.NewWorld(p, 1, bench.Usual(p)), jobs.Flatten(p.Job))
		if _, err := k.Until(nil); err != nil || !k.State().Released {
			t.Fatal(err, k.Words)
		}
		if err := k.LetGo(); err != nil {
			t.Fatal(err)
		}
		if c.tool != "" {
			if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "decide" }); err != nil {
				t.Fatal(err)
			}
			if err := k.Add(jobs.Event{Answer: k.State().Setup + "/look/1/tool", Value: c.tool}); err != nil {
				t.Fatal(err)
			}
		}
		if _, err := k.Until(func(st *fold.State) bool { return st.Cursor.Step == "restart" && st.Cursor.Open }); err != nil {
			t.Fatal(err)
		}
		a, ok := k.State().Ask("low")
		if !ok {
			t.Fatalf("%s: at %s", c.level, k.State().Cursor.Step)
		}
		said := ""
		for _, d := range a.Do {
			said += d.Words
		}
		if !strings.HasPrefix(said, c.says) || (said == "") != (c.says == "") {
			t.Errorf("%s, %q: %q", c.level, c.tool, said)
		}
	}
}
