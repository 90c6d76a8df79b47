// Package tui is the screen: it turns keys into intents and state into frames.
//
// Rules of the screen, kept by everything in this package:
//
//   - Enter takes a reading and answers nothing; + answers and takes nothing.
//   - Esc closes what lies on top and never discards what was typed.
//   - A verdict is a word, a shape and a colour, in that order of trust.
//   - Every line is padded to the full width and keeps its place, so that a
//     change on the page does not make the rest of it move.
//   - Nothing runs at rest: a timer is set only while a key is being held back or what was
//     taken is being worked out.
//   - No praise, no jokes, no exclamation marks.
//
// How it hangs together:
//
//	key message -> Keys (who pressed what: hand, gauge, paste) -> Stroke
//	Stroke + Focus -> KeyMap -> Intent -> the one page that has the focus, else Model.general
//	page -> events -> Save -> Log -> State, in commands -> Model.settle chooses the page
//	State + size -> sheet (lines with priorities) -> Layout -> Frame
//
// A page is a Go type with its own state: walkPage (do, then read), verdictPage,
// readyPage, releasedPage, and those that lie on top of one of them: lists, help,
// waiver, block of hits, note, idle. Run, RunJobs and RunFaults are the ways in.
//
// It is the only package that imports Bubble Tea. Non-goals: no disk, no clock of
// its own (the time comes in with each message), no arithmetic on readings, and
// no knowledge of any particular step.
package tui

import (
	_ "fliptrue/tui/background" // before Bubble Tea: see its comment

	"github.com/mattn/go-runewidth"
)

// Bubbles' components measure with go-runewidth, which follows the locale; the
// renderer does not. One table for both.
func init() { runewidth.DefaultCondition.EastAsianWidth = false }

// Sane puts a terminal that a crashed program left in application keypad or
// application cursor mode back to numeric keypad and normal cursor keys (DECPNM,
// and DECCKM reset). Write it before the program starts.
const Sane = "\x1b>\x1b[?1l"
