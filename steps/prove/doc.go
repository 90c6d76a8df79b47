// Package prove holds the nets under a change that must change nothing: a State as plain
// text, walks drawn from a seed, and records with the States that they had when they were kept.
//
// Goals: the text names no Go type and rests on no layout of a struct, so that it stays equal
// while code moves; numbers stand in it to the last bit (as amd64 computes them: a processor
// that fuses multiplication and addition may differ there); the same seed walks the same walk.
//
// Non-goals: to be read by a program, or to judge whether what it says is right.
package prove
