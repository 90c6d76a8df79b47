package sent

import "flag"

// The same draws at every run, and no files left behind: -rapid.seed=0 draws anew.
func init() {
	for name, value := range map[string]string{"rapid.seed": "20261129", "rapid.nofailfile": "true"} {
		if err := flag.Set(name, value); err != nil {
			panic(err)
		}
	}
}
