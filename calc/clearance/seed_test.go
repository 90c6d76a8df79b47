package clearance

import "flag"

// One seed, so that a run is the same everywhere; -rapid.seed on the command line wins.
func init() {
	if err := flag.Set("rapid.seed", "20260301"); err != nil {
		panic(err)
	}
}
