// Package pen draws scenes for paper: the same shapes and residuals that the screen draws, as strokes and words of an
// SVG. It scales and places; it knows no step, measures nothing and escapes nothing: a template writes what it gives.
//
// Lengths of paper are in mm, from the upper left corner, Y down. Looks are names (Stroke.Look) whose lines the style
// of the page says, so that each can be told without colour.
package pen
