// Package jobs is what is on disk: job files, machine and fixture cards, and the
// record of what happened. It reads, checks, writes and locks.
//
// One reader serves the three files: the struct tags of Job, Machine and Fixture say
// which keys there are and what their values must satisfy (the rules are listed in
// rule.go). It walks the YAML tree itself, so that every fault has its line and column
// and all of them come at once, and it reads every number through calc/unit, never
// through YAML. Bare numbers are in the file's own unit.
//
// A Record is text to which events are only ever added: an Append that returned nil is
// on the disk, one that failed left nothing that counts. Everything that touches a disk
// goes through the Disk interface; Mem is one that fails and crashes on demand.
//
// Non-goals: it decides nothing about the work itself. Whether a clamp's outline is
// convex, a material known or a limit met is for its users to say. File names in a job
// must be plain names inside its folder; a link that a person has put in that folder is
// followed. A disk that claims to have synced and has not is beyond it.
package jobs
