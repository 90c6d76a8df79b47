// Package steps is the work itself: which steps a setup has, what each asks and
// makes, what voids what, and what may be done next.
//
// Everything is one fold over an append-only list of events:
//
//	key or file line -> intent -> jobs.Event -> record -> Fold(plan, events) -> State -> screen / report
//
// Fold is pure: the same plan and the same events give the same State, to the
// bit. No clock, no disk, no terminal. Order is the place in the record.
//
// A step does not hand numbers to the next; it makes facts. A fact rests on
// others live (it falls at once with them) or as read (what counts is how they
// stood when its first reading was taken). No void flag is stored: whether a
// fact is void follows from the mishaps that stand after its first reading, the
// rechecks that lifted them, and the facts it rests on live.
//
// Non-goals: it draws nothing, knows no key, and never claims to move a machine.
package steps
