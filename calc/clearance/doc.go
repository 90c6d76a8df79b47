// Package clearance tells whether a tool passes what stands on the table: clamps, bolts,
// jaws, screw heads, each a convex outline in plan with the height of its top.
//
// The tool is a stack of cylinders (flutes, shank, holder); an obstacle is solid from the
// table to its top. A path is kept clear of an obstacle when the cylinders that come lower
// than top plus margin pass it in plan by their radius plus margin. Straight moves, arcs
// and regions are exact; a rapid is taken as the box it spans, because on many controls a
// rapid is not a straight line.
//
// A Field answers move by move without allocation, so that a whole program can be run
// through it; Move looks for the smallest shift of a clamp that stands in the way.
//
// All lengths and coordinates are mm, Z up, one frame for all. Angles are radians,
// counter-clockwise. Non-goals: no program syntax, no stock removal, no tilted tools, no
// concave outlines (split them).
package clearance
