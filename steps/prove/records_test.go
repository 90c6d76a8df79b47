package prove_test

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fliptrue/jobs"
	"fliptrue/steps/fold"
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
func programs(t testing.TB, k prove.Kept) map[string]fold.ProgramFile {
	t.Helper()
	if k.Job == nil {
		return must[map[string]fold.ProgramFile](t)(prove.Programs(k.Programs))
	}
	out := map[string]fold.ProgramFile{}
	for role, name := range map[string]string{"drill": "holes.nc", "top": "top.nc"} {
		out[role] = prove.Program(name, must[[]byte](t)(os.ReadFile(filepath.Join(k.Programs, name))))
	}
	return out
}

// rare are seeds of walks that ask, check or name what no other record does.
var rare = []uint64{
	6, 13, 35, 41, 58, 69, 72, 83, 91, 101, 104, 158, 164, 175, 191, 203, 217, 225, 264, 277, 282, 331, 366, 370,
	465, 476, 497, 502, 515, 547, 548, 605, 607, 636, 671, 693, 724, 727, 803, 808, 833, 853, 859, 877, 888, 929,
	955, 960, 995,
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
	for _, seed := range rare {
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
	all, _ := replayed(t)
	took := 0
	for _, r := range all {
		if r.err != nil {
			t.Errorf("%s: %v", r.kept.Name, r.err)
		}
		if r.kept.Events[0].Cards["taken.bore"] != "" {
			took++
		}
	}
	if took < 20 {
		t.Errorf("%d records begin with facts taken over, want 20", took)
	}
	if os.Getenv("UPDATE") != "" {
		writeStates(t, all)
		return
	}
	was := map[string]string{} // hashes of a look by its name
	for line := range strings.Lines(string(must[[]byte](t)(os.ReadFile(folder + "states.txt")))) {
		if name, hashes, ok := strings.Cut(strings.TrimSuffix(line, "\n"), ": "); ok {
			was[name] = hashes
		}
	}
	wrong, numbers := 0, 0
	for _, r := range all {
		l, plainly, differs := r.first(was)
		if plainly {
			numbers++
		}
		if differs {
			wrong++
		}
		if plainly || differs && wrong-numbers <= 5 { // of words a few, of numbers all
			what := "words only"
			if plainly {
				what = "numbers, ids or values"
			}
			t.Errorf("%s: setup %s after event %d is another than it was (%s)%s", r.kept.Name, l.setup, l.n, what, difference(t, r))
		}
		for _, l := range r.all {
			delete(was, l.name(r))
		}
	}
	if wrong > 5 {
		t.Errorf("%d records in all, %d of them in more than words", wrong, numbers)
	}
	for name := range was {
		t.Errorf("%s: this State is not made any more", name)
	}
}

// first is the first look that is another than it was: the first in more than words, where one is.
func (r looks) first(was map[string]string) (out look, plainly, differs bool) {
	for _, l := range r.all {
		h := was[l.name(r)]
		if !strings.HasPrefix(h, l.plain+" ") {
			return l, true, true
		}
		if h != l.plain+" "+l.all && !differs {
			out, differs = l, true
		}
	}
	return out, false, differs
}

func (l look) name(r looks) string { return fmt.Sprintf("%s %s %d", r.kept.Name, l.setup, l.n) }

// textName is what a text after the last event is called in states.zip.
func (r looks) textName(setup string) string {
	return strings.TrimSuffix(r.kept.Name, ".record.yaml") + "." + setup + ".txt"
}

func writeStates(t *testing.T, all []looks) {
	var hashes strings.Builder
	texts := map[string][]byte{}
	for _, r := range all {
		for _, l := range r.all {
			fmt.Fprintf(&hashes, "%s: %s %s\n", l.name(r), l.plain, l.all)
		}
		for setup, text := range r.last {
			texts[r.textName(setup)] = text
		}
	}
	write := func(name string, data []byte) {
		if err := os.WriteFile(folder+name, data, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	write("states.txt", []byte(hashes.String()))
	write("states.zip", must[[]byte](t)(prove.Zip(texts)))
}

// difference is where the State after the last event differs, or how to see an earlier one.
func difference(t *testing.T, r looks) string {
	texts := must[map[string][]byte](t)(prove.Unzip(must[[]byte](t)(os.ReadFile(folder + "states.zip"))))
	for setup, text := range r.last {
		if d := prove.Difference(texts[r.textName(setup)], text); d != "" {
			return "\nafter the last event, setup " + setup + ", " + d
		}
	}
	return "\nafter the last event all is as it was; to see the place: go run ./cmd/prove states --record " + r.kept.Name + " --at N, before and after"
}
