package main

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"fliptrue/steps/fold"
)

// version is the commit that this program was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return ""
	}
	var rev, dirty string
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			rev = s.Value[:min(12, len(s.Value))]
		case "vcs.modified":
			if s.Value == "true" {
				dirty = " with changes"
			}
		}
	}
	if rev == "" {
		return info.Main.Version
	}
	return rev + dirty
}

// versionLine says which program this is, and which walk it asks.
func versionLine() string {
	v := version()
	if v == "" || v == "(devel)" {
		v = "commit not known"
	}
	return fmt.Sprintf("%s, walk %d, format 1, %s %s/%s", v, fold.Walk, runtime.Version(), runtime.GOOS, runtime.GOARCH)
}
