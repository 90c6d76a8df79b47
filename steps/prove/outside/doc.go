// Package outside is a second simulated shop, that shares no belief with the product and none
// with the practice bench: it was written from the handbook of the trade, without reading either,
// and imports neither calc nor the bench (a test holds that).
//
// A world is drawn from a seed: points in space, moved by 4x4 matrices from the frame in which
// they were cut to the frame in which they stand. The part is what the mill of its day cut and
// the flip turned over; the fixture is what the mill of its day cut, grown since; where the two
// touch is found by contact of planes. What is asked on the way is answered from that world as
// an instrument would read it, and typed. At the end the built program is asked what the record
// means, and its interval is held against where the features truly stand.
//
// A finished part on the bench, a fixture in the making or that comes back, and a part that let go in the cut have worlds of
// their own (later.go); what is said there to be done is tried, and a mistake is made until something does not pass.
//
// Units: mm, radians, kelvin. Axes: X+ right, Y+ away, Z+ up.
//
// Non-goals: forces, chips. It asks of an interval only whether it holds, and of a released part whether it is good.
package outside
