package kit

// BallKind is the kind of setup in which the probe's ball is calibrated.
const BallKind = "ball"

// FirstSide is the kind of setup in which side 1 is cut, the raw stock in a vise.
const FirstSide = "first-side"

// SecondSide is the kind of setup in which the turned part drops into its fixture.
const SecondSide = "second-side"

// Inspect is the kind of setup in which the finished part is measured.
const Inspect = "inspect"

// TramKind is the kind of setup in which machine and spindle are proven, no part on the table.
const TramKind = "tram"

// Making is the kind of setup in which a fixture is cut and measured, Reuse the one in which it comes back for another season.
const (
	Making = "fixture"
	Reuse  = "reuse"
)

// Rescue is the kind of setup in which a part goes on that let go while it was cut. It stands in no job file.
const Rescue = "rescue"
