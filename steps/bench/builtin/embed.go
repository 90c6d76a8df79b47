// Package builtin is the job that practice walks, the back plate of a mantel barometer: a job file, its two
// cards and two short programs, as they would lie in a folder.
//
// Non-goals: it simulates nothing; it is only the files.
package builtin

import (
	"embed"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"fliptrue/jobs"
)

// Files are the files as shipped, for hold-down plan T. The programs of plan M lie
// beside them, the same part in inches below them.
//
//go:embed *.yaml *.nc inch
var Files embed.FS

// JobFile is the name of the job file, FixtureFile that of the card of its fixture.
const (
	JobFile     = "back.job.yaml"
	FixtureFile = "pl-2.fixture.yaml"
)

// HoldDowns are the plans the job is made for.
const HoldDowns = "TMS"

// Inch is the same part in inches, in a shop without a probe: hold-down plan T.
const Inch = "inch"

// change is one text of a file that is another in one plan.
type change struct{ file, from, to string }

const (
	planT    = "hold-down: T                # T: fixture tapped before, part drilled under its straps\n"
	drill5   = "  5: {name: drill 2.9, dia: 2.9, point: 118, flute: 30, shank: 2.9, stickout: 36, holder: {dia: 28, length: 32}}\n"
	programs = "programs: {drill: holes.nc, top: top.nc}"
	// straps runs from the clamps' key to the next one.
	strapsFrom, strapsTo = "    clamps:\n", "    cut:"
)

var changes = map[string][]change{
	"T":  nil,
	Inch: nil,
	"M": {
		{JobFile, planT, "hold-down: M                # M: holes matched through part and fixture, then tapped\n"},
		{JobFile, drill5, "  4: {name: drill 2.1, dia: 2.1, point: 118, flute: 30, shank: 2.1, stickout: 36, holder: {dia: 28, length: 32}}\n" + drill5},
		{FixtureFile, "cycles: 4", "cycles: 0"},
	},
	"S": {
		{JobFile, planT, "hold-down: S                # S: holes made on side 1, fixture tapped before\n"},
		{JobFile, drill5, ""},
		{JobFile, programs, "programs: {top: top.nc}"},
	},
}

// shipped are the files of a plan as they lie here, by the name that they go out by.
func shipped(plan string) map[string]string {
	dir := "."
	if inch, _, _ := strings.Cut(plan, "-"); inch == Inch {
		dir = "inch"
	}
	list, err := Files.ReadDir(dir)
	if err != nil {
		panic("builtin: " + err.Error())
	}
	out := map[string]string{}
	for _, f := range list {
		if f.IsDir() {
			continue
		}
		b, err := Files.ReadFile(path.Join(dir, f.Name()))
		if err != nil {
			panic("builtin: " + err.Error())
		}
		out[f.Name()] = string(b)
	}
	switch plan {
	case "M":
		out["holes.nc"] = out["holes-matched.nc"]
	case "S":
		delete(out, "holes.nc")
	}
	delete(out, "holes-matched.nc")
	return out
}

// Texts are the files by name, as practice writes them out: of one hold-down plan, of Inch, or of a kind of setup that stands for the
// second side (InInches). An unknown plan is an error that lists the known.
func Texts(holdDown string) (map[string]string, error) {
	list, ok := changes[holdDown]
	if inch, is := strings.CutPrefix(holdDown, Inch+"-"); is {
		list, ok = inchKinds[inch]
	}
	if kind, is := kinds[holdDown]; is {
		list, ok, holdDown = append(slices.Clone(changes[kind.plan]), kind.changes...), true, kind.plan
	}
	if !ok {
		return nil, fmt.Errorf("hold-down plan %q is not known; the plans are T, M and S", holdDown)
	}
	out := shipped(holdDown)
	for _, c := range list {
		if strings.Count(out[c.file], c.from) != 1 {
			panic("builtin: " + c.file + " does not hold " + c.from)
		}
		out[c.file] = strings.Replace(out[c.file], c.from, c.to, 1)
	}
	if !strings.Contains(out[JobFile], "holes.nc") {
		delete(out, "holes.nc")
	}
	if holdDown == "S" {
		text := out[JobFile]
		i, j := strings.Index(text, strapsFrom), strings.Index(text, strapsTo)
		if i < 0 || j < i {
			panic("builtin: the job has no clamps")
		}
		out[JobFile] = text[:i] + text[j:]
	}
	return out, nil
}

// Job is the built-in job of one hold-down plan, read as any other job is.
func Job(holdDown string) (*jobs.Job, error) {
	texts, err := Texts(holdDown)
	if err != nil {
		return nil, err
	}
	return Read(texts, "practice")
}

// Read is the job of texts, as if they lay in a folder.
func Read(texts map[string]string, dir string) (*jobs.Job, error) {
	files := map[string]string{}
	for name, text := range texts {
		files[filepath.Join(dir, name)] = text
	}
	j, faults := jobs.ReadJob(jobs.Mem(files), filepath.Join(dir, JobFile))
	return j, faults.Err()
}
