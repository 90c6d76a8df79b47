// Package rescue is the setup after something let go in the cut: the first minute, what is written down before anything
// moves, save or scrap, hold it again, find it again, the new offset, the line to begin at, and a release of its own.
//
// It goes on from a setup that was begun and looks at what that one left (fold.AsLeft). A part that was in it never
// corrects a card: the mishap that opens it spoils the part for that (fold.Spoil).
package rescue
