package main

import (
	"maps"
	"strings"
	"testing"
	"time"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/bench"
	"fliptrue/steps/checks"
)

// twoSetups is a job of both sides, and a record of both walked on the bench.
func twoSetups(t testing.TB) (files map[string]string, events []jobs.Event) {
	t.Helper()
	disk := jobs.Mem(nil)
	if code, _, errs := said(disk, "new", "--yes", "--job", "two", "--setups", "both sides"); code != exitOK {
		t.Fatal(errs)
	}
	j, faults := jobs.ReadJob(disk, "two.job.yaml")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for i, s := range j.Setups {
		p, err := steps.NewPlan(j, s.Name, nil)
		if err != nil {
			t.Fatal(err)
		}
		cards := jobs.Flatten(j)
		maps.Copy(cards, checks.ProgramCards(p))
		res, err := bench.Auto(p, bench.Options{Seed: uint64(i + 1), Cards: cards})
		if err != nil {
			t.Fatal(err)
		}
		events = append(events, res.Walk.Events...)
	}
	files = map[string]string{}
	for _, f := range []string{"two.job.yaml", "two.fixture.yaml", "bench-mill.machine.yaml"} {
		files[f] = disk.Text(f)
	}
	return files, events
}

// Whatever a card of a begin says, and whatever stands in the place of one event: the record
// is followed or refused in words, by replay and by report, and never breaks the program.
func FuzzWholeRecord(f *testing.F) {
	files, events := twoSetups(f)
	for _, s := range []struct {
		key, value string
		at         uint16
		verb, addr string
	}{
		{"job.allowance", "0.05", 0, "note", "x"}, {"walk", "x", 9, "read", "side2/bore/1/hit1.x"}, {"taken.bore", "{}", 3, "mishap", "side2/power-lost"},
		{"taken.bore", `{"value":[1,2,3],"cov":[[1]],"dof":1}`, 200, "answer", "side1/mount/1/vise"}, {"taken.offset", "x", 40, "round", "side2/bore/2"},
		{"program.side2.top.hash", "", 50, "waive", "side2/bore/1/bore.size"}, {"job.limits.repeat", "1e9", 60, "release", "side1"},
	} {
		f.Add(s.key, s.value, s.at, s.verb, s.addr)
	}
	f.Fuzz(func(t *testing.T, key, value string, at uint16, verb, addr string) {
		es := append([]jobs.Event{}, events...)
		for i := range es {
			if es[i].Begin != "" && key != "" && value != "" {
				es[i].Cards = maps.Clone(es[i].Cards)
				es[i].Cards[key] = value
			}
		}
		x := jobs.Event{At: es[0].At, Value: value}
		switch verb {
		case "read":
			x.Read = addr
		case "answer":
			x.Answer = addr
		case "mishap":
			x.Mishap = addr
		case "round":
			x.Round = addr
		case "waive":
			x.Waive, x.Reason = addr, "fuzz"
		case "release":
			x.Release = addr
		default:
			x.Note = addr
		}
		es[1+int(at)%(len(es)-1)] = x
		var b strings.Builder
		b.WriteString("--- {format: 1}\n")
		for _, ev := range es {
			line, err := jobs.Encode(ev)
			if err != nil {
				return
			}
			b.Write(line)
		}
		disk := jobs.Mem(files)
		disk.Put("two.1.record.yaml", b.String())
		for _, args := range [][]string{{"report", "two.job.yaml"}, {"replay", "two.1.record.yaml", "--setup", "side2", "--json"}} {
			code, out, errs := said(disk, args...)
			if strings.Contains(errs, "the program made a mistake") || code == exitUsage && !strings.Contains(errs, "is not begun") {
				t.Fatalf("%v: exit %d, %s%s", args, code, out[:min(len(out), 200)], errs)
			}
			if code == exitInput && errs == "" {
				t.Fatalf("%v is refused without a word", args)
			}
		}
	})
}

// Every fact that may be taken over, with values that no version wrote: refused in words.
func TestMalformedTaken(t *testing.T) {
	disk, _ := practised(t)
	e := &env{disk: disk, now: fixedTime, getenv: func(string) string { return "" }}
	s, err := began(e, openOptions{job: "p/back.job.yaml", next: true, unmoved: true})
	if err != nil {
		t.Fatal(err)
	}
	s.close()
	record := disk.Text("p/back.2.record.yaml")
	es, _, faults := jobs.ReadRecord(disk, "p/back.2.record.yaml")
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	tried := 0
	for key, good := range es[0].Cards {
		if !strings.HasPrefix(key, "taken.") {
			continue
		}
		for _, bad := range []string{"{}", "x", "[]", "null", `{"value":[]}`, `{"value":[1]}`, `{"value":[1,2,3,4,5,6,7,8,9]}`, `{"value":["a"]}`, `{"value":[1,2,3],"cov":[]}`,
			`{"value":[1,2,3],"cov":[[1]]}`, `{"value":[1,2,3],"cov":[[1,2],[3]]}`, `{"value":[1,2,3],"cov":[[-1,0],[0,-1]]}`, `{"value":[1,2,3],"dof":-1}`, `{"fact":{"x":1}}`, `{"fact":{}}`, `{"value":[1e999]}`,
			strings.Replace(good, `"value":[`, `"value":[9,`, 1), strings.Replace(good, `"cov":[`, `"cov":[[1],`, 1), strings.Replace(good, ":", ":-", 3), good[:len(good)/2]} {
			now := es[0]
			now.Cards = maps.Clone(now.Cards)
			if now.Cards[key] = bad; bad == good {
				continue
			}
			line, err := jobs.Encode(now)
			if err != nil {
				t.Fatal(err)
			}
			tried++
			disk.Put("p/back.2.record.yaml", "--- {format: 1}\n"+string(line))
			for i, command := range []string{"replay", "report"} {
				if i > 0 && tried%4 > 0 {
					continue // a sheet is slow, and says what the replay says
				}
				if code, out, errs := said(disk, command, "p/back.job.yaml"); strings.Contains(errs, "the program made a mistake") {
					t.Errorf("%s: %s = %s: exit %d, %s%s", command, key, bad, code, out, errs)
				}
			}
		}
	}
	if disk.Put("p/back.2.record.yaml", record); tried < 20 {
		t.Errorf("%d tried", tried)
	}
}

func fixedTime() time.Time { return time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC) }
