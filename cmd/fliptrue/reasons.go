package main

import (
	"bufio"
	"fmt"
	"maps"
	"slices"

	"fliptrue/jobs"
	"fliptrue/steps"
)

// askReasons asks once why a job sets a limit looser than is derived, and writes the answer beside
// that limit in the job. Without one what is derived goes on holding, and the walk says so.
func (e *env) askReasons(in *bufio.Reader, path string) error {
	j, faults := jobs.ReadJob(e.disk, path)
	if len(faults) > 0 {
		return nil // told elsewhere
	}
	mute := map[string]string{}
	for _, s := range j.Setups {
		if p, err := steps.NewPlan(j, s.Name, nil); err == nil {
			maps.Copy(mute, p.Unreasoned())
		}
	}
	for _, name := range slices.Sorted(maps.Keys(mute)) {
		fmt.Fprintf(e.out, "limits.%s of the job is looser than %s. Why? Enter alone leaves %s: ", name, mute[name], mute[name])
		why, err := e.line(in)
		if err != nil {
			return err
		}
		if why == "" {
			fmt.Fprintf(e.out, "  %s holds\n", mute[name])
			continue
		}
		if err := jobs.WriteReason(e.disk, path, name, why); err != nil {
			return err
		}
		fmt.Fprintf(e.out, "  written beside it; it stands as a waiver in the walk and on the report\n")
	}
	return nil
}
