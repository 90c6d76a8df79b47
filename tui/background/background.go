// Package background settles the terminal's background colour before Bubble Tea
// can ask for it.
//
// Importing Bubble Tea v1 runs an init that asks the terminal for its background
// colour and waits up to five seconds for the answer; a serial console, a bare
// pseudo-terminal or a slow link never answers. Setting the value first makes
// that question unnecessary. Go initialises packages whose imports are ready in
// the order of their import paths, so this package must import nothing but Lip
// Gloss, and its path must sort before github.com/charmbracelet/bubbletea.
//
// Non-goals: it does not find out what the background is. Dark or light is an
// option of the program; see Theme.
package background

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
