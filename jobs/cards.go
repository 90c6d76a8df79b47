package jobs

import "fliptrue/calc/unit"

// Machine is the machine card: what the machine and its instruments are.
//
// A card's bare numbers are in the card's own unit (mm unless it says "unit: in"),
// never in the unit of the job that happens to name it: several jobs share a card.
type Machine struct {
	Path           string
	Unit           unit.System           `key:"unit" rule:"words mm|in"`
	Name           string                `key:"machine" rule:"need"`
	Travel         map[string][2]float64 `key:"travel" rule:"names x|y|z; ascending"`                 // x, y, z: lowest and highest machine coordinate; nil when the machine has none
	Readout        float64               `key:"readout" rule:"need; above 0; max 1"`                  // step of the readout, mm
	Rotation       string                `key:"rotation" rule:"default none"`                         // "none" or the dialect word, such as G68
	Dialect        string                `key:"dialect" rule:"words lenient|strict; default lenient"` // lenient: forms that the standard refuses and many controls take are noted, not refused
	Delivers       string                `key:"delivers" rule:"words type-in|g10|g92|readout; default type-in"`
	Offsets        int                   `key:"offsets" rule:"min 1; max 1000"` // work offsets the control has; 0 when not said: several
	Backlash       float64               `key:"backlash" rule:"min 0; max 5"`
	Squareness     unit.Slope            `key:"squareness" rule:"max 0.1"`
	SquareMeasured bool                  `key:"" rule:"given squareness"`                          // the card gave it
	Straightness   float64               `key:"straightness" rule:"min 0; max 1; default 0.003mm"` // of the moving axis over an edge run, mm; default 0.003
	Probe          *Probe                `key:"probe"`                                             // nil without a probe
	Tram           *Tram                 `key:"tram"`                                              // nil when never measured
	Dial           Dial                  `key:"dial"`
	Finder         *EdgeFinder           `key:"edge-finder"`
	Homed          bool                  `key:"homed" rule:"default true"` // default true: machine coordinates exist
	Foot           [2]float64            `key:"foot" rule:"min 0"`         // of the column on its base: width along X, depth along Y, mm; 0 when not given
	Hash           string
	History        []Change `key:"history"` // what records wrote back

	leaves map[string]string
}

// Probe is the touch probe as last calibrated.
type Probe struct {
	Ball         float64    `key:"ball" rule:"need; above 0"` // ball diameter; effective (trigger) radius
	Radius       float64    `key:"radius" rule:"need; above 0"`
	RadiusX      float64    `key:"radius-x" rule:"above 0"` // per direction; 0 when the one radius serves
	RadiusY      float64    `key:"radius-y" rule:"above 0"`
	Eccentricity [2]float64 `key:"eccentricity"`
	Repeat       float64    `key:"repeat" rule:"need; above 0; max 1"`  // pooled standard deviation of one hit
	Dof          float64    `key:"dof" rule:"need; kind scalar; min 1"` // its degrees of freedom
	Source       string     `key:"source" rule:"need"`                  // ring gauge; when; where the spindle mark pointed
	Date         string     `key:"date"`
	ID           string     `key:"id"`
	Mark         string     `key:"mark"`
	Void         string     `key:"void" rule:"default no"` // why the calibration no longer holds; "no" while it does
}

// Tram is the spindle's lean to the table, and the lean of the Z travel when measured.
type Tram struct {
	X    unit.Slope  `key:"x" rule:"need; max 0.1"`
	Y    unit.Slope  `key:"y" rule:"need; max 0.1"`
	ZX   *unit.Slope `key:"column-x" rule:"max 0.1"` // Z travel ("column"); nil when not measured
	ZY   *unit.Slope `key:"column-y" rule:"max 0.1"`
	Date string      `key:"date"`
	Void string      `key:"void" rule:"default no"` // why it no longer holds; "no" while it does
}

// Dial is the test indicator.
type Dial struct {
	Graduation float64 `key:"graduation" rule:"need; above 0; max 1"`
	ID         string  `key:"id"`
}

// EdgeFinder is a mechanical edge finder, mm.
type EdgeFinder struct {
	Dia    float64 `key:"dia" rule:"need; above 0"`
	Repeat float64 `key:"repeat" rule:"need; above 0; max 1"`
}

// Fixture is the fixture card: as made in its one setup. Places are from bore 1, x along the edge.
type Fixture struct {
	Path     string
	Unit     unit.System `key:"unit" rule:"words mm|in"`
	ID       string      `key:"fixture" rule:"need"`
	Material string      `key:"material" rule:"need"`
	AsMade   AsMade      `key:"as-made" rule:"need"`
	Pocket   Pocket      `key:"pocket" rule:"need"`
	Support  []Outline   `key:"support"` // solid fixture under the part
	Threads  Threads     `key:"threads"`
	Witness  Witness     `key:"witness"`
	Uses     int         `key:"uses"`
	Alpha    float64     `key:"alpha" rule:"kind scalar; above 0; max 0.001"` // expansion per K; 0 means from the material
	Hash     string
	History  []Change `key:"history"` // what records wrote back

	leaves map[string]string
}

// AsMade are the values measured before the fixture was unclamped.
type AsMade struct {
	Temperature *unit.Temperature `key:"temperature"`
	Bore        Bore              `key:"bore" rule:"need"`
	Bore2       *Bore2            `key:"bore2"`
	Edge        *Edge             `key:"edge"`
	PartZero    Point             `key:"part-zero" rule:"need"` // middle of its pocket: the clearance toward the datum walls is added by the program
	Floor       Floor             `key:"floor" rule:"need"`
	Rim         float64           `key:"rim"` // height of the rim over the floor; 0 means Floor.Depth
}

// Bore is the locating bore, mm.
type Bore struct {
	Dia          float64    `key:"dia" rule:"need; above 0"` // of a square: its width
	Bias         [2]float64 `key:"bias"`                     // probed centre minus programmed centre
	Eccentricity [2]float64 `key:"eccentricity"`             // of the probe on that day
	Kind         string     `key:"kind" rule:"words bore|pin|square; default bore"`
}

// Bore2 is the second bore (or pin); At is its as-made place from bore 1.
type Bore2 struct {
	At  Point   `key:"at" rule:"need"`
	Dia float64 `key:"dia" rule:"above 0"` // 0 means as bore 1
}

// Edge is the indicated edge.
type Edge struct {
	Side   string     `key:"side" rule:"need; words front|rear|left|right"`
	From   Point      `key:"from" rule:"need"`
	Length float64    `key:"length" rule:"need; above 0"`
	Zero   unit.Slope `key:"zero" rule:"max 0.1"` // what the indicator read on it as made
}

// Floor is the pocket floor: its depth below the rim and the material under it.
type Floor struct {
	Depth float64 `key:"depth" rule:"need; above 0"`
	Under float64 `key:"under" rule:"need; above 0"`
}

// Pocket is the pocket that the part drops into.
type Pocket struct {
	Clearance float64 `key:"clearance" rule:"need; min 0"` // per side
	Outline   Outline `key:"outline" rule:"need"`
}

// Threads are the fixture's threads.
type Threads struct {
	Kind    string     `key:"kind" rule:"need; words tapped|insert|none"`
	Relief  float64    `key:"relief" rule:"min 0"`
	Depth   float64    `key:"depth" rule:"above 0; need kind=tapped|insert"` // full thread below the relief
	Cycles  int        `key:"cycles"`
	Retire  int        `key:"retire"`                                                     // 0 means never
	Pullout unit.Force `key:"pullout" rule:"above 0; need kind=insert; only kind=insert"` // heat-set insert: entered capacity
	Source  string     `key:"source" rule:"need kind=insert"`

	ReliefDia   float64     `key:"relief-dia" rule:"above 0"`
	Tap         string      `key:"tap" rule:"words taper|second|bottoming; default second"` // the tap in hand
	StripAngle  float64     `key:"strip-angle" rule:"kind degrees; above 0; max 3600"`      // a sacrificial thread of this fixture: from snug to strip
	StripTorque unit.Torque `key:"strip-torque" rule:"above 0"`                             // the torque at which it stripped
}

// Witness are the fixture surfaces reachable with the part in, used as reference of the shift test.
type Witness struct {
	Rim []Point `key:"rim" rule:"min-count 2; max-count 2"` // two points on the rim
}

// Change is what one record wrote back to a card. Its key makes writing it a
// second time, after a crash, harmless.
type Change struct {
	Key    string            `key:"" rule:"name"`
	Values map[string]string `key:"" rule:"inline"`
}
