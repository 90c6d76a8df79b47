package fold

// Scene is a picture as outlines, points and residuals in plan millimetres, each
// with its role and verdict. Only the screen scales and draws it.
type Scene struct {
	Shapes []Shape
	Run    *RunPlot
	Ring   *RingPlot
	Tilt   *TiltPlot
	Bars   []Row
	Cut    *Section
	Clocks []Clock
	Moves  *MovePlot
	Arrow  []XY // the fixture's own, from its tail to its head; none where it does not matter
}

// Clock is how far something is turned or how much of it is reached, as a share of once round, from
// twelve o'clock on.
type Clock struct {
	Name, Text string
	Share      float64
	Role       Role // RoleHit done, RoleNext now, RoleLater to come
}

// MovePlot is how far places of the plan moved, mm, each to be held against one limit.
type MovePlot struct {
	At, By []XY
	Limit  float64 // mm
}

// Section is a cut through the setup as it is seen from the front, where heights tell more than places.
// Heights in mm, in one coordinate system; widths are shares of the picture.
type Section struct {
	Name   string
	Lo, Hi float64 // what is shown
	Solids []Solid
	Levels []Height
}

// Solid is one outline of a section; Point is how much lower its tip comes than Lo.
type Solid struct {
	Role           Role
	X0, X1, Lo, Hi float64
	Point          float64
}

// Height is one that matters, by its name.
type Height struct {
	Name string
	Z    float64
	Role Role
	Bare bool // its number is not known yet: it is what is asked
}

// Role says what a shape is; the screen chooses line and glyph by it.
type Role int

const (
	RoleFixture Role = iota
	RolePocket
	RolePart
	RoleBore
	RoleEdge
	RoleHit
	RoleNext // where the next reading is taken
	RoleHole
	RoleClamp
	RoleScrew
	RoleFeature
	RoleSupport
	RoleJaw
	RolePath
	RoleConflict
	RoleTap   // an arrow
	RoleLater // a reading that is still to come
	RolePush  // an arrow: where the hand pushes
	RoleSweep // the way of a stylus about the spindle
)

// Shape is one outline, point or circle.
type Shape struct {
	Role    Role
	Name    string
	Points  []XY // one point: a mark; more: a polyline
	Closed  bool
	Radius  float64 // a circle about the only point when > 0
	Verdict Verdict
}

// XY is a place in plan, mm.
type XY struct{ X, Y float64 }

// RunPlot is an indicator run: readings along the edge, the line through them, residuals.
type RunPlot struct {
	At, Reading, Fitted []float64
	Suspect             int    // index, -1 for none
	TapEnd, TapDir      string // RIGHT, AWAY
	Tap                 float64
	Ends                [2]string // where the run begins and ends: LEFT, RIGHT
	Scale               float64   // by which a reading is a move of the edge AWAY, or RIGHT where it runs away from the person; 0: not known
	Limit               float64   // of the difference between the ends, mm; 0 for none
	AsMade              float64   // slope of the edge as it was made: what a square fixture shows, by the move of the edge
}

// RingPlot is a circle's hits with their residuals, to be magnified.
type RingPlot struct {
	Angle, Residual []float64 // radians, mm
	Suspect         int       // index, -1 for none
	Limit           float64   // of the form, mm; 0 for none
}

// TiltPlot is a plane: points with residuals and the tilt.
type TiltPlot struct {
	Points       []XY
	Residual     []float64
	TiltX, TiltY float64 // rad
	Suspect      int
	Limit        float64 // of the rise over all the points, mm; 0 for none
}
