package main

import (
	"maps"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"fliptrue/jobs"
	"fliptrue/tui"
)

// askBackground has the terminal asked whether its background is light, and gives what it
// said the last time; dark, if nothing is known of it. The Linux console is black and takes
// no such question; on Windows the answer would come as keys.
func (e *env) askBackground(term string) (light bool) {
	if term == "linux" || term == "" || runtime.GOOS == "windows" {
		return false
	}
	terminal := strings.Map(func(r rune) rune {
		if r <= ' ' || r > '~' {
			return -1
		}
		return r
	}, term+"/"+e.getenv("TERM_PROGRAM"))
	known := e.backgrounds()
	e.background = &tui.Background{Keep: func(light bool) { e.keepBackground(terminal, light) }}
	return known[terminal] == "light"
}

// backgroundFile holds a line for each terminal: its name, then light or dark.
func (e *env) backgroundFile() (string, bool) {
	dir, err := e.stateDir()
	return filepath.Join(dir, "backgrounds"), err == nil && e.disk != nil
}

// backgrounds are those that terminals answered before. What cannot be read is not known.
func (e *env) backgrounds() map[string]string {
	known := map[string]string{}
	path, ok := e.backgroundFile()
	if !ok {
		return known
	}
	data, _ := e.disk.Read(path, 1<<16)
	for _, l := range strings.Split(string(data), "\n") {
		if terminal, colour, ok := strings.Cut(strings.TrimSpace(l), " "); ok && (colour == "light" || colour == "dark") {
			known[terminal] = colour
		}
	}
	return known
}

// keepBackground remembers an answer for the next time. That it cannot be written harms
// nothing: it is asked again.
func (e *env) keepBackground(terminal string, light bool) {
	colour := "dark"
	if light {
		colour = "light"
	}
	known := e.backgrounds()
	path, ok := e.backgroundFile()
	if !ok || known[terminal] == colour || len(known) > 200 {
		return
	}
	known[terminal] = colour
	if e.disk.MakeDir(filepath.Dir(path)) != nil {
		return
	}
	var b strings.Builder
	for _, t := range slices.Sorted(maps.Keys(known)) {
		b.WriteString(t + " " + known[t] + "\n")
	}
	fresh := path + ".new"
	_ = e.disk.Remove(fresh) // of a start that was cut short
	if jobs.WriteFile(e.disk, fresh, []byte(b.String())) == nil {
		_ = e.disk.Rename(fresh, path)
	}
}
