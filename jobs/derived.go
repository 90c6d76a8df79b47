package jobs

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// derivedKinds are kinds of setup that stand in no file: a record begins one by a name made of the setup
// that it goes on from.
var derivedKinds = []string{"rescue"}

// Derived is the name of the n-th setup of a kind, from 1, that goes on from a setup: side2-rescue-1.
func Derived(from, kind string, n int) string { return fmt.Sprintf("%s-%s-%d", from, kind, n) }

// derived is a setup of the file as another kind, by its derived name.
func (j *Job) derived(name string) (*Setup, bool) {
	rest, number, ok := cutLast(name)
	if n, err := strconv.Atoi(number); !ok || err != nil || n < 1 || number != strconv.Itoa(n) {
		return nil, false
	}
	from, kind, ok := cutLast(rest)
	if !ok || !slices.Contains(derivedKinds, kind) {
		return nil, false
	}
	i := slices.IndexFunc(j.Setups, func(s Setup) bool { return s.Name == from && s.Second() })
	if i < 0 {
		return nil, false
	}
	s := j.Setups[i]
	s.Name, s.Kind, s.From = name, kind, from
	return &s, true
}

func cutLast(s string) (before, after string, ok bool) {
	i := strings.LastIndexByte(s, '-')
	if i < 0 {
		return s, "", false
	}
	return s[:i], s[i+1:], true
}
