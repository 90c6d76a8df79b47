// Package jobs is what is on disk: job files, machine and fixture cards, and the
// record of what happened. It reads, checks, writes and locks; it decides nothing
// about the work itself.
package jobs
