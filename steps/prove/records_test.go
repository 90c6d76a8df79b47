package prove_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps"
	"fliptrue/steps/prove"
)

const folder = "../../testdata/records/"

// onDisk are the records that lie elsewhere in the repository, with their jobs: of both walks.
var onDisk = []struct{ record, job string }{
	{"../../testdata/lid/lid.1.record.yaml", "../../testdata/lid/lid.job.yaml"},
	{"../../testdata/lid/lid.2.record.yaml", "../../testdata/lid/lid.job.yaml"},
	{"../../testdata/tray/tray.1.record.yaml", "../../testdata/tray/tray.job.yaml"},
	{"../../testdata/tray/tray.2.record.yaml", "../../testdata/tray/tray.job.yaml"},
	{"../testdata/earlier.record.yaml", "../../testdata/lid/lid.job.yaml"},
}

func must[T any](t testing.TB) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// kept are all records: those of the archive, in order of their names, then those on the disk.
func kept(t testing.TB) (out []prove.Kept) {
	t.Helper()
	texts := must[map[string][]byte](t)(prove.Unzip(must[[]byte](t)(os.ReadFile(folder + "records.zip"))))
	for name, text := range texts {
		out = append(out, must[prove.Kept](t)(prove.ReadKept(name, text)))
	}
	slices.SortFunc(out, func(a, b prove.Kept) int { return strings.Compare(a.Name, b.Name) })
	for _, d := range onDisk {
		j, fs := jobs.ReadJob(jobs.OS(), d.job)
		if len(fs) > 0 {
			t.Fatal(fs)
		}
		k := must[prove.Kept](t)(prove.ReadKept(filepath.Base(d.record), must[[]byte](t)(os.ReadFile(d.record))))
		k.Job, k.Programs = j, filepath.Dir(d.job)
		out = append(out, k)
	}
	return out
}

// programs are those of a shop, or those that lie in a folder.
func programs(t testing.TB, k prove.Kept) map[string]steps.ProgramFile {
	t.Helper()
	if k.Job == nil {
		return must[map[string]steps.ProgramFile](t)(prove.Programs(k.Programs))
	}
	out := map[string]steps.ProgramFile{}
	for role, name := range map[string]string{"drill": "holes.nc", "top": "top.nc"} {
		out[role] = prove.Program(name, must[[]byte](t)(os.ReadFile(filepath.Join(k.Programs, name))))
	}
	return out
}

// TestWriteRecords makes the archive of records anew, which is never done to make a test green:
// they are what older programs wrote. RECORDS=1 go test ./steps/prove -run TestWriteRecords
func TestWriteRecords(t *testing.T) {
	if os.Getenv("RECORDS") == "" {
		t.Skip("the records are as they were written")
	}
	texts := map[string][]byte{}
	add := func(w *prove.Walked) {
		texts[fmt.Sprintf("%s-%d.record.yaml", w.Name, w.Seed)] = must[[]byte](t)(w.Keep())
	}
	for seed := uint64(1001); seed <= 1200; seed++ {
		add(must[*prove.Walked](t)(prove.Draw(seed)))
	}
	for seed, n := uint64(2001), 0; n < 20; seed++ {
		w := must[*prove.Walked](t)(prove.DrawNext(seed))
		if w.TookOver() {
			add(w)
			n++
		}
	}
	if err := os.MkdirAll(folder, 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(folder+"records.zip", must[[]byte](t)(prove.Zip(texts)), 0o666); err != nil {
		t.Fatal(err)
	}
}

// TestRecordsMeanWhatTheyMeant folds every record that was kept and compares the State after every
// tenth event with the one of then: states.txt has two hashes a look, of numbers, ids and values and
// of everything, and states.zip the whole text after the last event. UPDATE=1 accepts what is now.
func TestRecordsMeanWhatTheyMeant(t *testing.T) {
	var hashes strings.Builder
	last, took := map[string][]byte{}, 0
	var shown []prove.Look
	was := map[string]string{} // line of a look by its name
	update := os.Getenv("UPDATE") != ""
	if !update {
		for line := range strings.Lines(string(must[[]byte](t)(os.ReadFile(folder + "states.txt")))) {
			if i := strings.LastIndex(strings.TrimSuffix(line, "\n"), ":"); i > 0 {
				was[line[:i]] = strings.TrimSuffix(line[i+1:], "\n")
			}
		}
	}
	wrong := 0
	for _, k := range kept(t) {
		shown = shown[:0]
		if k.Events[0].Cards["taken.bore"] != "" {
			took++
		}
		if err := prove.Replay(k.Job, programs(t, k), k.Events, func(l prove.Look) { shown = append(shown, l) }); err != nil {
			t.Errorf("%s: %v", k.Name, err)
			continue
		}
		told := false
		for _, l := range shown {
			name := fmt.Sprintf("%s %s %d", k.Name, l.Setup, l.N)
			all, plain := l.Text.Hash()
			fmt.Fprintf(&hashes, "%s: %s %s\n", name, plain, all)
			if l.N == len(k.Events) {
				last[strings.TrimSuffix(k.Name, ".record.yaml")+"."+l.Setup+".txt"] = l.Text
			}
			if h := strings.Fields(was[name]); !update && !told && (len(h) != 2 || h[1] != all) {
				told = true
				if wrong++; wrong <= 5 {
					what := "numbers, ids or values"
					if len(h) == 2 && h[0] == plain {
						what = "words only"
					}
					t.Errorf("%s: setup %s after event %d is another than it was (%s)%s", k.Name, l.Setup, l.N, what, difference(t, k, shown))
				}
			}
			delete(was, name)
		}
	}
	if wrong > 5 {
		t.Errorf("and %d records more", wrong-5)
	}
	if took < 20 {
		t.Errorf("%d records begin with facts taken over, want 20", took)
	}
	if update {
		write := func(name string, data []byte) {
			if err := os.WriteFile(folder+name, data, 0o666); err != nil {
				t.Fatal(err)
			}
		}
		write("states.txt", []byte(hashes.String()))
		write("states.zip", must[[]byte](t)(prove.Zip(last)))
		return
	}
	for name := range was {
		t.Errorf("%s: this State is not made any more", name)
	}
}

// difference is where the State after the last event differs, or how to see an earlier one.
func difference(t *testing.T, k prove.Kept, shown []prove.Look) string {
	texts := must[map[string][]byte](t)(prove.Unzip(must[[]byte](t)(os.ReadFile(folder + "states.zip"))))
	for _, l := range shown {
		if l.N != len(k.Events) {
			continue
		}
		name := strings.TrimSuffix(k.Name, ".record.yaml") + "." + l.Setup + ".txt"
		if d := prove.Difference(texts[name], l.Text); d != "" {
			return "\nafter the last event, setup " + l.Setup + ", " + d
		}
	}
	return "\nafter the last event all is as it was; to see the place: go run ./cmd/prove states --record " + k.Name + " --at N, before and after"
}
