// Package reuse is the arithmetic of a fixture that comes back: how it has grown and from
// what, how its bore has worn, how many times its threads still bear, and when to cut its
// datums anew.
//
// Goals: growth is split into heat and humidity, wear is what is left of a size after growth;
// what is moisture is left to come back, never cut away.
//
// Non-goals: nothing in machine coordinates survives a remount and nothing here is in them. It
// knows no card and no step.
//
// Units: mm, rad, K, percent of humidity; growths are fractions.
package reuse
