//go:build !unix

package jobs

// asItStands is nothing here: what stands at the place was looked at just before, and is
// compared once it is open.
const asItStands = 0
