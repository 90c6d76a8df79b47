// Package inspect is the setup in which the finished part is measured on the bench: where side 2 lies against side 1, walls,
// floor, fit; and whether its fixture is corrected for it or left alone.
package inspect
