// Package fold is the engine under every kind of setup: it folds the events of a record into
// what they mean. It knows no step, no kind of setup and no sentence of a step.
//
//	jobs.Event -> Log.Apply -> Log.State(plan) -> State
//
// Goals: the same plan and the same events give the same State, to the bit, however they are
// split; nothing that was read is ever lost or changed by what comes after it; what may be done
// next, and the cheapest way back to where one was, follow from what is there.
//
// Non-goals: it measures nothing, judges no number, draws nothing, asks no clock and no disk.
//
// Invariants, each held by a test:
//
//   - Order is the place in the record, never the time. An age is judged by the times of events.
//   - No void flag is stored. A fact is void iff a mishap that hits it stands after its first
//     reading and no recheck has lifted it, or a live fact under it is void or was made again, or
//     a job key that it was measured against differs from its value then; restored, it is back.
//   - A round is judged by the record up to its first reading, and by its own readings.
//   - A step sees the facts that it needs and nothing else; a void fact is absent.
//   - A round begun before what it needs stood, or torn by a mishap, makes nothing and is asked again.
//   - No step is asked before what it stands on.
//   - A waiver holds for one limit, one number and until the next reading of what it judges.
//   - What can't be is no reading (House.Bounds); a job loosens a limit only so far and with a reason.
//   - A record of an earlier walk keeps its questions and its verdicts.
//
// To read it: spec.go and need.go say what a step is, house.go what a kind is, log.go takes events,
// resolve.go finds what stands, judge.go asks a step what its readings mean, way.go plans what is
// still to do, state.go puts it together.
package fold
