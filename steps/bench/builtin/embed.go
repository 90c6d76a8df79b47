// Package builtin is the job that practice walks: a job file, its two cards and two
// short programs, as they would lie in a folder.
//
// Non-goals: it simulates nothing; it is only the files.
package builtin

import (
	"embed"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"fliptrue/jobs"
)

// Files are the files as shipped, for hold-down plan T. The programs of plan M lie
// beside them.
//
//go:embed *.yaml *.nc
var Files embed.FS

// JobFile is the name of the job file.
const JobFile = "lid.job.yaml"

// HoldDowns are the plans the job is made for.
const HoldDowns = "TMS"

// change is one text of a file that is another in one plan.
type change struct{ file, from, to string }

const (
	planT    = "hold-down: T                # T: fixture tapped before, part drilled under its straps\n"
	drill5   = "  5: {name: drill 2.4, dia: 2.4, point: 118, flute: 24, shank: 2.4, stickout: 30, holder: {dia: 24, length: 30}}\n"
	programs = "programs: {drill: holes.nc, top: top.nc}"
	// straps runs from the clamps' key to the next one.
	strapsFrom, strapsTo = "    clamps:\n", "    cut:"
)

var changes = map[string][]change{
	"T": nil,
	"M": {
		{JobFile, planT, "hold-down: M                # M: holes matched through part and fixture, then tapped\n"},
		{JobFile, drill5, "  4: {name: drill 1.6, dia: 1.6, point: 118, flute: 26, shank: 1.6, stickout: 32, holder: {dia: 24, length: 30}}\n" + drill5},
		{"lid.fixture.yaml", "cycles: 3", "cycles: 0"},
	},
	"S": {
		{JobFile, planT, "hold-down: S                # S: holes made on side 1, fixture tapped before\n"},
		{JobFile, drill5, ""},
		{JobFile, programs, "programs: {top: top.nc}"},
	},
}

// Texts are the files of one hold-down plan by name, or of a kind of setup that stands for the second side, as practice writes them out.
// An unknown plan is an error that lists the known.
func Texts(holdDown string) (map[string]string, error) {
	list, ok := changes[holdDown]
	if kind, is := kinds[holdDown]; is {
		list, ok, holdDown = append(slices.Clone(changes[kind.plan]), kind.changes...), true, kind.plan
	}
	if !ok {
		return nil, fmt.Errorf("hold-down plan %q is not known; the plans are T, M and S", holdDown)
	}
	out := map[string]string{}
	for _, name := range []string{JobFile, "bench.machine.yaml", "lid.fixture.yaml", "holes.nc", "top.nc"} {
		from := name
		if name == "holes.nc" {
			switch holdDown {
			case "M":
				from = "holes-matched.nc"
			case "S":
				continue
			}
		}
		b, err := Files.ReadFile(from)
		if err != nil {
			panic("builtin: " + err.Error())
		}
		out[name] = string(b)
	}
	for _, c := range list {
		if strings.Count(out[c.file], c.from) != 1 {
			panic("builtin: " + c.file + " does not hold " + c.from)
		}
		out[c.file] = strings.Replace(out[c.file], c.from, c.to, 1)
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
	const dir = "practice"
	files := map[string]string{}
	for name, text := range texts {
		files[filepath.Join(dir, name)] = text
	}
	j, faults := jobs.ReadJob(jobs.Mem(files), filepath.Join(dir, JobFile))
	return j, faults.Err()
}
