package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
)

// mutant is a small wrong change: one text in one file in the place of another.
type mutant struct {
	n                int
	file, right, bad string
}

// The ways in which a mutant can end.
const (
	caught   = "caught"
	survived = "SURVIVED"
	gone     = "NOT THERE" // the table has to follow the code
	broken   = "NO GO"     // it does not compile
)

func mutantsCommand() *cobra.Command {
	var table string
	var only []int
	var wide bool
	c := &cobra.Command{
		Use: "mutants", Short: "Try small wrong changes one by one: the tests have to see each of them", Args: cobra.NoArgs,
		Long: `Each line of the table is a file, a text that stands in it once, and a wrong one, with a tab between.
The tests of the tree as it is have to be green first: a red one catches every mutant.
A mutant is held against the tests of its own package and of steps, with -short; --wide tries it against all.
Nothing in the tree is changed: the compiler is given another file in its place. Run it from the repository's root.`,
		RunE: func(cmd *cobra.Command, _ []string) error {
			f, err := os.Open(table)
			if err != nil {
				return err
			}
			defer f.Close()
			ms, err := readMutants(f)
			if err != nil {
				return err
			}
			return tryMutants(cmd.Context(), cmd.OutOrStdout(), ms, only, wide)
		},
	}
	c.Flags().StringVar(&table, "table", "testdata/mutants.txt", "the mutants")
	c.Flags().IntSliceVar(&only, "only", nil, "numbers of the mutants to try")
	c.Flags().BoolVar(&wide, "wide", false, "against the tests of every package")
	return c
}

// readMutants reads the table; a line that is none is an error with its number.
func readMutants(r io.Reader) ([]mutant, error) {
	var out []mutant
	sc := bufio.NewScanner(r)
	for line := 1; sc.Scan(); line++ {
		text := sc.Text()
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		parts := strings.Split(text, "\t")
		if len(parts) != 3 || parts[1] == parts[2] {
			return nil, fmt.Errorf("line %d: %q is no mutant; write file, right and wrong with a tab between", line, text)
		}
		out = append(out, mutant{len(out) + 1, parts[0], parts[1], parts[2]})
	}
	return out, sc.Err()
}

func tryMutants(ctx context.Context, w io.Writer, ms []mutant, only []int, wide bool) error {
	count := map[string]int{}
	for _, m := range ms {
		if len(only) > 0 && !slices.Contains(only, m.n) {
			continue
		}
		how, err := m.try(ctx, wide)
		if err != nil {
			return err
		}
		count[how]++
		if how != caught {
			fmt.Fprintf(w, "%3d %-9s %s: %s -> %s\n", m.n, how, m.file, m.right, m.bad)
		}
	}
	tried := count[caught] + count[survived]
	fmt.Fprintf(w, "%d mutants: %d caught, %d survived, %d not there, %d do not compile\n", tried+count[gone]+count[broken], count[caught],
		count[survived], count[gone], count[broken])
	if 20*count[survived] > tried || count[gone]+count[broken] > 0 {
		return errors.New("more than one in twenty survives, or the table does not fit the code")
	}
	return nil
}

// try holds one mutant against the tests.
func (m mutant) try(ctx context.Context, wide bool) (string, error) {
	src, err := os.ReadFile(m.file)
	if err != nil || bytes.Count(src, []byte(m.right)) != 1 {
		return gone, nil
	}
	dir, err := os.MkdirTemp("", "mutant")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(dir)
	changed, overlay := filepath.Join(dir, "changed.go"), filepath.Join(dir, "overlay.json")
	if err := os.WriteFile(changed, bytes.Replace(src, []byte(m.right), []byte(m.bad), 1), 0o600); err != nil {
		return "", err
	}
	full, err := filepath.Abs(m.file)
	if err != nil {
		return "", err
	}
	text, err := json.Marshal(map[string]map[string]string{"Replace": {full: changed}})
	if err != nil {
		return "", err
	}
	if err := os.WriteFile(overlay, text, 0o600); err != nil {
		return "", err
	}
	own := "./" + filepath.ToSlash(filepath.Dir(m.file))
	packages := []string{own, "./steps", "./steps/fold"}
	if wide {
		packages = []string{"./..."}
	}
	for _, p := range packages {
		ctx, stop := context.WithTimeout(ctx, 10*time.Minute)
		out, err := exec.CommandContext(ctx, "go", "test", "-short", "-vet=off", "-failfast", "-overlay", overlay, p).CombinedOutput()
		stop()
		switch {
		case err == nil:
			continue
		case bytes.Contains(out, []byte("[build failed]")):
			return broken, nil
		}
		return caught, nil
	}
	return survived, nil
}
