package main

import "testing"

// A terminal is asked for its background unless that was said or no colour is wanted, and what
// it answered is known the next time, for it alone.
func TestTheBackgroundIsRemembered(t *testing.T) {
	e, disk, _ := shop(t)
	vars := map[string]string{"HOME": "/home/x", "TERM": "xterm-256color"}
	e.getenv = func(k string) string { return vars[k] }
	yes := func() bool { return true }
	look := func(o lookOptions) bool {
		t.Helper()
		e.background = nil
		l, err := e.look(o)
		if err != nil {
			t.Fatal(err)
		}
		return l.Light
	}
	if look(lookOptions{}) || e.background == nil {
		t.Fatal("an unknown terminal is light, or is not asked")
	}
	e.background.Keep(true)
	if !look(lookOptions{}) || e.background == nil {
		t.Errorf("what it answered is not known; the state folder has %q", disk.Text("/home/x/.local/state/fliptrue/backgrounds"))
	}
	if look(lookOptions{said: yes}) || e.background != nil {
		t.Error("--light=false does not win")
	}
	if !look(lookOptions{light: true, said: yes}) || e.background != nil {
		t.Error("--light does not win")
	}
	vars["NO_COLOR"] = "1"
	if look(lookOptions{}) || e.background != nil {
		t.Error("NO_COLOR does not win")
	}
	delete(vars, "NO_COLOR")
	vars["TERM"] = "screen"
	if look(lookOptions{}) {
		t.Error("another terminal is light as well")
	}
	e.background.Keep(false)
	vars["TERM"] = "xterm-256color"
	look(lookOptions{})
	e.background.Keep(false)
	if look(lookOptions{}) {
		t.Error("the newer answer does not count")
	}
	for _, term := range []string{"linux", "dumb", ""} {
		if vars["TERM"] = term; look(lookOptions{}) || e.background != nil {
			t.Errorf("TERM=%q is asked", term)
		}
	}
}
