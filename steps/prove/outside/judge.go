package outside

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"

	"fliptrue/jobs"
)

// Said is what the program says of a record: the part of replay --json that is judged here.
type Said struct {
	State    string  `json:"state"`
	HeldAt   *string `json:"held_at"`
	Offset   *struct{ X, Y, Z float64 }
	Features []struct {
		Name     string
		Error, U struct{ X, Y float64 }
	}
	Sheet struct {
		Steps []SaidStep
	}
}

// SaidStep is what it says of one step.
type SaidStep struct {
	ID, Verdict string
	Checks      []struct{ Limit, Verdict, Words string }
	Found       []struct {
		What, Says   string
		Value, Guard *float64
	}
	Notes, Next []string
}

// Record is the walk's record as a file.
func (k *Walked) Record() ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("--- {format: 1}\n")
	for _, e := range k.Events {
		line, err := jobs.Encode(e)
		if err != nil {
			return nil, fmt.Errorf("seed %d: %w", k.Seed, err)
		}
		b.Write(line)
	}
	return b.Bytes(), nil
}

// Write puts job, cards, programs and record into a folder.
func (k *Walked) Write(dir string) error {
	rec, err := k.Record()
	if err != nil {
		return err
	}
	if err := k.Shop.Write(dir); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "lid.1.record.yaml"), rec, 0o666)
}

// Ask writes job and record into a folder, runs the built program on them and reads what it says.
func (k *Walked) Ask(ctx context.Context, binary, dir string) (Said, error) {
	var s Said
	if err := k.Write(dir); err != nil {
		return s, err
	}
	c := exec.CommandContext(ctx, binary, "replay", "--json", JobFile, "lid.1.record.yaml")
	c.Dir = dir
	var out, says bytes.Buffer
	c.Stdout, c.Stderr = &out, &says
	err := c.Run()
	var code *exec.ExitError
	if err != nil && (!errors.As(err, &code) || code.ExitCode() > 1) {
		return s, fmt.Errorf("seed %d: replay: %w\n%s%s", k.Seed, err, says.String(), out.String())
	}
	if err := json.Unmarshal(out.Bytes(), &s); err != nil {
		return s, fmt.Errorf("seed %d: replay --json: %w", k.Seed, err)
	}
	return s, nil
}

// Held is one stated interval beside the truth.
type Held struct {
	Feature, Axis string
	Stated, U     float64 // mm
	True          float64 // mm
	Inside        bool
}

// Compare holds each stated interval against the truth. A feature that is missing is an error.
func Compare(s Said, truths []Truth) ([]Held, error) {
	var out []Held
	for _, t := range truths {
		found := false
		for _, f := range s.Features {
			if f.Name != t.Name {
				continue
			}
			found = true
			for _, h := range []Held{{t.Name, "x", f.Error.X, f.U.X, t.X, false}, {t.Name, "y", f.Error.Y, f.U.Y, t.Y, false}} {
				h.Inside = h.True >= h.Stated-h.U && h.True <= h.Stated+h.U
				out = append(out, h)
			}
		}
		if !found {
			return nil, fmt.Errorf("feature %q: the program says nothing of it", t.Name)
		}
	}
	return out, nil
}

// Sided is one number with its one-sided guard beside the truth.
type Sided struct {
	Claim
	Stated, Guard float64
	Over, Under   bool // the truth is not above value and guard; not below value less guard
}

// CompareFound holds what steps state against the truth. A guard is one-sided: each number makes two claims, of 95 % each.
// What a step states that does not pass is not relied on. A passed step that says nothing of a claim is an error.
func CompareFound(s Said, claims []Claim) ([]Sided, error) {
	var out []Sided
	for _, c := range claims {
		at := slices.IndexFunc(s.Sheet.Steps, func(st SaidStep) bool { return st.ID == c.Step })
		if at < 0 || s.Sheet.Steps[at].Verdict != "pass" {
			continue
		}
		n := len(out)
		for _, f := range s.Sheet.Steps[at].Found {
			if f.What == c.What && f.Value != nil && f.Guard != nil {
				out = append(out, Sided{c, *f.Value, *f.Guard, c.True <= *f.Value+*f.Guard, c.Most || c.True >= *f.Value-*f.Guard})
			}
		}
		if len(out) != n+1 {
			return nil, fmt.Errorf("%s: the program states %q %d times", c.Step, c.What, len(out)-n)
		}
	}
	return out, nil
}
