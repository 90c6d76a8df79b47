package jobs

import "fliptrue/calc/unit"

// Machine is the machine card: what the machine and its instruments are.
//
// A card's bare numbers are in the card's own unit (mm unless it says "unit: in"),
// never in the unit of the job that happens to name it: several jobs share a card.
type Machine struct {
	Path           string
	Unit           unit.System           `key:"unit" rule:"words mm|in" says:"Unit of the bare numbers in this file; any value may carry its own." eg:"mm"`
	Name           string                `key:"machine" rule:"need" says:"Name of the machine." eg:"bench mill"`
	Travel         map[string][2]float64 `key:"travel" rule:"names x|y|z; ascending" says:"Lowest and highest machine coordinate of each axis; left out where the machine has none." sign:"machine coordinates as the control shows them" eg:"{x: [-400, 0], y: [-250, 0], z: [-300, 0]}"`
	Readout        float64               `key:"readout" rule:"need; above 0; max 1" says:"Step of the readout." eg:"0.001"`
	Rotation       string                `key:"rotation" rule:"default none" says:"The word that turns coordinates at this control, or none." eg:"G68"`
	Dialect        string                `key:"dialect" rule:"words lenient|strict; default lenient" says:"lenient notes what many controls take and the standard refuses; strict refuses it." eg:"lenient"`
	Delivers       string                `key:"delivers" rule:"words type-in|g10|g92|readout; default type-in" says:"How an offset gets into the control: typed in, by a G10 line, by G92, or zeroed on a readout." eg:"type-in"`
	Lengths        string                `key:"lengths" rule:"words table|touched-off; default table" says:"How the control knows the lengths of tools: from a table that G43 calls, or by touching off each tool." eg:"table"`
	Offsets        int                   `key:"offsets" rule:"min 1; max 1000" says:"How many work offsets the control has; left out: several." eg:"6"`
	Backlash       float64               `key:"backlash" rule:"min 0; max 5" says:"Lost motion of an axis." eg:"0.005"`
	Squareness     unit.Slope            `key:"squareness" rule:"max 0.1" says:"How far X and Y are from square; a cut Y further away lands this much further right." sign:"+ lands toward X+ as Y grows" eg:"0.010/100"`
	SquareMeasured bool                  `key:"" rule:"given squareness"` // the card gave it
	Straightness   float64               `key:"straightness" rule:"min 0; max 1; default 0.003mm" says:"Straightness of the moving axis over an edge run." eg:"0.003"`
	Lead           float64               `key:"lead" rule:"min 0; max 1" says:"Most that the travel of a screw varies within any 300 mm, by its maker or a test; left out: 0.052, of a rolled screw." eg:"0.023"`
	Probe          *Probe                `key:"probe" says:"The touch probe as last calibrated; left out without one." eg:"{ball: 2, radius: 0.991, repeat: 0.001, dof: 30, source: ring gauge}"`
	Tram           *Tram                 `key:"tram" says:"Lean of the spindle to the table; left out until it was measured." eg:"{x: 0.010/300, y: 0.006/300}"`
	Dial           Dial                  `key:"dial" says:"The test indicator." eg:"{graduation: 0.002}"`
	Finder         *EdgeFinder           `key:"edge-finder" says:"A mechanical edge finder; left out without one." eg:"{dia: 10, repeat: 0.005}"`
	Spindle        [2]float64            `key:"spindle" rule:"kind scalar; above 0; ascending; max 200000" says:"Slowest and fastest that the spindle turns, turns a minute; left out: not known." eg:"[5000, 24000]"`
	Fastest        float64               `key:"fastest" rule:"above 0; max 100000" says:"Fastest feed of an axis, a minute; left out: not known." eg:"2000"`
	Homed          bool                  `key:"homed" rule:"default true" says:"The machine homes, so that machine coordinates are the same every day." eg:"true"`
	Feed           map[string]Feed       `key:"feed" rule:"names axes|dial|calliper|micrometer" says:"Where readings arrive from, by what is read: the axes as the control shows them, a dial, a calliper, a micrometer." eg:"{axes: {file: probe.log, columns: [x, y, z]}}"`
	Foot           [2]float64            `key:"foot" rule:"min 0" says:"Foot of the column on its base: width along X, depth along Y; left out when not known." eg:"[180, 240]"`
	Hash           string
	History        []Change `key:"history" says:"What records wrote back, by record; not for your hand." eg:"{lid.1: {tram.x: 0.010/300}}"`

	leaves map[string]string
}

// Probe is the touch probe as last calibrated.
type Probe struct {
	Ball         float64    `key:"ball" rule:"need; above 0" says:"Ball diameter." eg:"2"`
	Radius       float64    `key:"radius" rule:"need; above 0" says:"Effective radius: from the ball's middle to where it triggers, about half of ball." eg:"0.991"`
	RadiusX      float64    `key:"radius-x" rule:"above 0" says:"The same along X, where it differs." eg:"0.992"`
	RadiusY      float64    `key:"radius-y" rule:"above 0" says:"The same along Y, where it differs." eg:"0.990"`
	Eccentricity [2]float64 `key:"eccentricity" says:"How far off a centre is found because the ball stands off the spindle axis, the mark at its calibrated place." sign:"probed centre minus true centre: true = probed - eccentricity; X+ right, Y+ away from you" eg:"[0.012, -0.004]"`
	Repeat       float64    `key:"repeat" rule:"need; above 0; max 1" says:"Standard deviation of one hit." eg:"0.001"`
	Dof          float64    `key:"dof" rule:"need; kind scalar; min 1" says:"Degrees of freedom of repeat: about the number of repeated hits behind it." eg:"30"`
	Source       string     `key:"source" rule:"need" says:"What it was calibrated with." eg:"ring gauge 25 mm"`
	Date         string     `key:"date" says:"Day of the calibration." eg:"2026-03-01"`
	ID           string     `key:"id" says:"Which probe." eg:"no. 2"`
	Mark         string     `key:"mark" says:"Where the spindle mark pointed." eg:"toward you"`
	Void         string     `key:"void" rule:"default no" says:"Why the calibration no longer holds; no while it does." eg:"no"`
}

// Tram is the spindle's lean to the table, and the lean of the Z travel when measured.
type Tram struct {
	X    unit.Slope  `key:"x" rule:"need; max 0.1" says:"Lean of the spindle axis along X, as rise over run." sign:"+ the top of the head leans toward X+ (right)" eg:"0.010/300"`
	Y    unit.Slope  `key:"y" rule:"need; max 0.1" says:"Lean of the spindle axis along Y." sign:"+ the top of the head leans toward Y+ (away from you)" eg:"-0.006/300"`
	ZX   *unit.Slope `key:"column-x" rule:"max 0.1" says:"Lean of the Z travel along X; left out when not measured." sign:"+ going up moves toward X+ (right)" eg:"0.004/100"`
	ZY   *unit.Slope `key:"column-y" rule:"max 0.1" says:"Lean of the Z travel along Y; left out when not measured." sign:"+ going up moves toward Y+ (away from you)" eg:"0.002/100"`
	Date string      `key:"date" says:"Day of the measurement." eg:"2026-03-01"`
	Void string      `key:"void" rule:"default no" says:"Why it no longer holds; no while it does." eg:"no"`
}

// Dial is the test indicator.
type Dial struct {
	Graduation float64 `key:"graduation" rule:"need; above 0; max 1" says:"Value of one graduation." eg:"0.002"`
	ID         string  `key:"id" says:"Which indicator." eg:"no. 7"`
}

// EdgeFinder is a mechanical edge finder, mm.
type EdgeFinder struct {
	Dia    float64 `key:"dia" rule:"need; above 0" says:"Diameter of its tip." eg:"10"`
	Repeat float64 `key:"repeat" rule:"need; above 0; max 1" says:"Standard deviation of one find." eg:"0.005"`
}

// Fixture is the fixture card: as made in its one setup. Places are from bore 1, x along the edge.
type Fixture struct {
	Path     string
	Unit     unit.System `key:"unit" rule:"words mm|in" says:"Unit of the bare numbers in this file; any value may carry its own." eg:"mm"`
	ID       string      `key:"fixture" rule:"need" says:"What is engraved on the fixture; it is asked for at the machine." eg:"FX-3"`
	Material string      `key:"material" rule:"need" says:"Material of the fixture, shipped or under materials of the job." eg:"acrylic-cast"`
	AsMade   AsMade      `key:"as-made" rule:"need" says:"What was measured before the fixture was unclamped from the setup that it was made in."`
	Pocket   Pocket      `key:"pocket" rule:"need" says:"The pocket that the part drops into." eg:"{clearance: 0.02, outline: [[44.98, 19.98], [141.02, 19.98], [141.02, 84.02], [44.98, 84.02]]}"`
	Support  []Outline   `key:"support" says:"Solid fixture under the part, as convex outlines from bore 1; leave out what is milled away." sign:"X+ right, Y+ away from you, from bore 1" eg:"[[[45, 20], [141, 20], [141, 32], [45, 32]]]"`
	Threads  Threads     `key:"threads" says:"The fixture's threads." eg:"{kind: tapped, relief: 1, depth: 5, cycles: 3, retire: 10}"`
	Witness  Witness     `key:"witness" says:"Fixture surfaces that a dial reaches with the part in." eg:"{rim: [[10, 5], [110, 5]]}"`
	Uses     int         `key:"uses" says:"How many setups were released on it; counted up at release." eg:"3"`
	Alpha    float64     `key:"alpha" rule:"kind scalar; above 0; max 0.001" says:"Thermal expansion for each kelvin; left out: by the material." eg:"0.00007"`
	Found    []Found     `key:"found" says:"What inspections found of the parts made on it, by record; a correction rests on these. Not for your hand." eg:"{lid.1: {at: \"2026-03-01T10:42:05Z\", x: 0.0113, y: -0.0173}}"`
	Seen     []Seen      `key:"seen" says:"What was seen of the fixture itself each time it came back, by record; its trend rests on these. Not for your hand." eg:"{lid.4: {at: \"2026-09-01T10:42:05Z\", use: 4, bore: 0.0012}}"`
	Hash     string
	History  []Change `key:"history" says:"What records wrote back, by record; not for your hand." eg:"{lid.1: {uses: \"4\"}}"`

	leaves map[string]string
}

// Found is what an inspection found of one part: where its side 2 lies against side 1, about its middle.
type Found struct {
	Record  string            `key:"" rule:"name"`
	At      string            `key:"at" rule:"need" says:"When it was read." eg:"2026-03-01T10:42:05Z"`
	X       float64           `key:"x" rule:"max 5; min -5" says:"Side 2 displaced along X." sign:"X+ right, side 2 up and the arrow toward you" eg:"0.0113"`
	Y       float64           `key:"y" rule:"max 5; min -5" says:"Side 2 displaced along Y." sign:"Y+ away from you" eg:"-0.0173"`
	Turn    unit.Slope        `key:"turn" rule:"max 0.1; min -0.1" says:"Side 2 turned." sign:"+ counter-clockwise, seen from above" eg:"0.06/300"`
	Size    float64           `key:"size" rule:"max 5; min -5" says:"How much further out than side 1 each outer face of side 2 stands." eg:"0.003"`
	Thick   float64           `key:"thick" rule:"max 5; min -5" says:"Floor beyond its thickness." sign:"+ too thick" eg:"0.013"`
	T       *unit.Temperature `key:"temperature" says:"Temperature of the part then." eg:"20.5C"`
	RH      float64           `key:"humidity" rule:"kind scalar; min 0; max 99" says:"Humidity of the air then, percent; 0 not read." eg:"45"`
	LeftOut string            `key:"left-out" says:"Why the part is not counted for a correction; left out: it counts." eg:"part bumped"`
	Back    string            `key:"back" says:"When that was put back again; left out: it stands." eg:"2026-04-01T08:00:00Z"`
	Grew    Grew              `key:"grew" says:"How much of it was the part's growth since side 1, by its widths; not the fixture's." eg:"{y: -0.0210}"`
	Took    Took              `key:"took" says:"How much of it was taken out of this card." eg:"{x: 0.0072}"`
}

// Seen is a fixture that came back, against the day on which it was made: what is left once its growth is off.
type Seen struct {
	Record  string            `key:"" rule:"name"`
	At      string            `key:"at" rule:"need" says:"When it was read." eg:"2026-09-01T10:42:05Z"`
	Use     int               `key:"use" rule:"min 0; max 100000" says:"Uses that it had had by then." eg:"4"`
	Bore    float64           `key:"bore" rule:"max 5; min -5" says:"Diameter of bore 1 beyond its size as made, grown as the whole has." sign:"+ wider" eg:"0.0012"`
	Grown   float64           `key:"grown" rule:"kind scalar; max 0.1; min -0.1" says:"Growth between the bores that heat does not explain, as a share." sign:"+ larger than as made" eg:"0.00029"`
	Floor   float64           `key:"floor" rule:"max 5; min -5" says:"How much further from a plane the pocket floor is." sign:"+ worse than as made" eg:"0.002"`
	Rim     float64           `key:"rim" rule:"max 5; min -5" says:"Rim over floor beyond as made." sign:"+ higher" eg:"-0.001"`
	Line    unit.Slope        `key:"line" rule:"max 0.1; min -0.1" says:"Edge against the line of both bores, beyond as made." sign:"+ counter-clockwise, seen from above" eg:"0.002/300"`
	T       *unit.Temperature `key:"temperature" says:"Temperature of the fixture then." eg:"24.5C"`
	RH      float64           `key:"humidity" rule:"kind scalar; min 0; max 99" says:"Humidity of the air then, percent; 0 not read." eg:"45"`
	LeftOut string            `key:"left-out" says:"Why it is not counted in the trend; left out: it counts." eg:"a mishap or a waiver stands in its record"`
}

// Grew is what of a displacement the part's growth made.
type Grew struct {
	X float64 `key:"x" rule:"max 5; min -5" says:"Of the displacement along X." sign:"X+ right, as found" eg:"0.0021"`
	Y float64 `key:"y" rule:"max 5; min -5" says:"Of the displacement along Y." sign:"Y+ away from you, as found" eg:"-0.0210"`
}

// Took is what a correction took out of a card, signed as what was found; 0 for what was left alone.
type Took struct {
	X    float64    `key:"x" rule:"max 5; min -5" says:"Of the displacement along X." sign:"X+ right, as found" eg:"0.0072"`
	Y    float64    `key:"y" rule:"max 5; min -5" says:"Of the displacement along Y." sign:"X+ right, Y+ away from you, as found" eg:"-0.0072"`
	Turn unit.Slope `key:"turn" rule:"max 0.1; min -0.1" says:"Of the turn." sign:"+ counter-clockwise, seen from above" eg:"0.04/300"`
}

// AsMade are the values measured before the fixture was unclamped.
type AsMade struct {
	Temperature *unit.Temperature `key:"temperature" says:"Temperature of the fixture when it was measured." eg:"20.5C"`
	Bore        Bore              `key:"bore" says:"The locating bore, pin or square; left out where stops are given." eg:"{dia: 8, bias: [0, 0]}"`
	Stops       *Stops            `key:"stops" says:"Three edges that the fixture is found by in place of a bore: places on the card then count from the corner where their lines meet." eg:"{long: away, at: [20, 90], end: left, end-at: -40}"`
	Bore2       *Bore2            `key:"bore2" says:"The second bore or pin, which gives the direction with the first." eg:"{at: [120, 0]}"`
	Edge        *Edge             `key:"edge" says:"The indicated edge, which gives the direction." eg:"{side: front, from: [0, -15], length: 120}"`
	PartZero    Point             `key:"part-zero" rule:"need" says:"Where the program zero of a part in the middle of its pocket lies; the clearance toward the walls is added by the program." sign:"X+ right, Y+ away from you, from bore 1" eg:"[45, 20]"`
	Floor       Floor             `key:"floor" rule:"need" says:"The pocket floor." eg:"{depth: 12, under: 12}"`
	Rim         float64           `key:"rim" says:"Height of the rim over the floor; left out: depth of the floor." eg:"12"`

	Humidity float64            `key:"humidity" rule:"kind scalar; min 0; max 99" says:"Humidity of the air then, percent; left out: not read." eg:"45"`
	Date     string             `key:"date" says:"Day on which it was measured." eg:"2026-03-01"`
	Revision int                `key:"revision" rule:"min 0; max 1000" says:"How often its bores, pads and edge were cut; left out: once." eg:"1"`
	SmallBy  float64            `key:"small-by" rule:"min -1; max 1" says:"How much its finisher cut small in radius, by bore 1." sign:"+ every wall stands so much further into the pocket than programmed" eg:"0.0070"`
	SmallU   float64            `key:"small-u" rule:"min 0; max 1" says:"Standard uncertainty of small-by." eg:"0.0024"`
	ZeroU    [2]float64         `key:"part-zero-u" rule:"min 0; max 5" says:"Standard uncertainty of part-zero along X and Y." eg:"[0.0024, 0.0031]"`
	ZeroR    float64            `key:"part-zero-r" rule:"kind scalar; min -1; max 1" says:"Correlation of the errors of part-zero along X and Y." sign:"+ both are off to the same side: X+ right with Y+ away from you" eg:"-0.6"`
	SpacingU float64            `key:"spacing-u" rule:"min 0; max 5" says:"Standard uncertainty of the distance from bore 1 to bore 2." eg:"0.0006"`
	DiaU     float64            `key:"bore-u" rule:"min 0; max 5" says:"Standard uncertainty of the bore's diameter." eg:"0.0008"`
	Pads     map[string]float64 `key:"pads" rule:"min -1; max 1" says:"How far each pad was probed off where its bore says that it stands, by the pad's name." sign:"X+ right, Y+ away from you: probed minus predicted" eg:"{left: -0.0009, away 1: 0.0008}"`
	Form     float64            `key:"form" rule:"min 0; max 5" says:"How far the pocket floor was from a plane." eg:"0.004"`
	Spring   float64            `key:"spring" rule:"min 0; max 5" says:"Most that it moved when its bolts were let go." eg:"0.003"`
}

// Bore is the locating bore, mm.
type Bore struct {
	Dia          float64    `key:"dia" rule:"need; above 0" says:"Its diameter; of a square the width." eg:"8"`
	Bias         [2]float64 `key:"bias" says:"Probed centre minus programmed centre, on the day it was made." sign:"X+ right, Y+ away from you: probed minus programmed" eg:"[0.004, -0.002]"`
	Eccentricity [2]float64 `key:"eccentricity" says:"Eccentricity of the probe on that day." sign:"as on the machine card" eg:"[0, 0]"`
	Kind         string     `key:"kind" rule:"words bore|pin|square; default bore" says:"What it is." eg:"bore"`
}

// Bore2 is the second bore (or pin); At is its as-made place from bore 1.
type Bore2 struct {
	At  Point   `key:"at" rule:"need" says:"Its place as made." sign:"X+ right, Y+ away from you, from bore 1" eg:"[120, 0]"`
	Dia float64 `key:"dia" rule:"above 0" says:"Its diameter; left out: as bore 1." eg:"8"`
}

// Stops are what stops a part on a plain plate, or the walls of a nest: one of its sides at two places, the one
// square to it at one. The corner where both lines meet stands for the bore.
type Stops struct {
	Long  string     `key:"long" rule:"need; words left|right|away|toward" says:"Side of the part that two stops hold, as you stand." eg:"away"`
	At    [2]float64 `key:"at" rule:"need; ascending" says:"Where along that side they are touched, from the corner." sign:"X+ right or Y+ away from you, from the corner" eg:"[20, 90]"`
	End   string     `key:"end" rule:"need; words left|right|away|toward" says:"Side of the part that the third stop holds." eg:"left"`
	EndAt float64    `key:"end-at" rule:"need" says:"Where along that side it is touched, from the corner." sign:"X+ right or Y+ away from you, from the corner" eg:"-40"`
}

// Edge is the indicated edge.
type Edge struct {
	Side   string     `key:"side" rule:"need; words front|rear|left|right" says:"Which side of the fixture the edge is on." eg:"front"`
	From   Point      `key:"from" rule:"need" says:"Where the run along it begins." sign:"X+ right, Y+ away from you, from bore 1" eg:"[0, -15]"`
	Length float64    `key:"length" rule:"need; above 0" says:"Length of the run." eg:"120"`
	Zero   unit.Slope `key:"zero" rule:"max 0.1" says:"What the dial read on the edge as made, as rise over run; 0/100 when it read flat." sign:"front or rear edge: + its RIGHT end lies AWAY; left or right edge: + its FAR end lies LEFT; counter-clockwise from above" eg:"0/100"`
}

// Floor is the pocket floor: its depth below the rim and the material under it.
type Floor struct {
	Depth float64 `key:"depth" rule:"need; above 0" says:"From the rim down to the floor." eg:"12"`
	Under float64 `key:"under" rule:"need; above 0" says:"Material under the floor." eg:"12"`
}

// Pocket is the pocket that the part drops into.
type Pocket struct {
	Clearance float64 `key:"clearance" rule:"need; min 0" says:"Clearance for each side, half of what the pocket is wider than the part." eg:"0.02"`
	Outline   Outline `key:"outline" rule:"need" says:"The pocket from above." sign:"X+ right, Y+ away from you, from bore 1" eg:"[[44.98, 19.98], [141.02, 19.98], [141.02, 84.02], [44.98, 84.02]]"`
}

// Threads are the fixture's threads.
type Threads struct {
	Kind    string     `key:"kind" rule:"need; words tapped|insert|none" says:"What kind of threads." eg:"tapped"`
	Relief  float64    `key:"relief" rule:"min 0" says:"Depth of the relief counterbore above the thread." eg:"1"`
	Depth   float64    `key:"depth" rule:"above 0; need kind=tapped|insert" says:"Full thread below the relief." eg:"5"`
	Cycles  int        `key:"cycles" says:"How often they were used; counted up at release." eg:"3"`
	Retire  int        `key:"retire" says:"At how many cycles they are to be renewed; left out: never." eg:"10"`
	Pullout unit.Force `key:"pullout" rule:"above 0; need kind=insert; only kind=insert" says:"Pull-out force of a heat-set insert, from its maker or a test." eg:"400N"`
	Source  string     `key:"source" rule:"need kind=insert" says:"Where pullout is from." eg:"maker's sheet"`

	ReliefDia   float64     `key:"relief-dia" rule:"above 0" says:"Diameter of the relief counterbore." eg:"4"`
	Tap         string      `key:"tap" rule:"words taper|second|bottoming; default second" says:"The tap in hand." eg:"second"`
	StripAngle  float64     `key:"strip-angle" rule:"kind degrees; above 0; max 3600" says:"Degrees from snug to strip, of a sacrificial thread of this fixture." eg:"200"`
	StripTorque unit.Torque `key:"strip-torque" rule:"above 0" says:"Torque at which it stripped." eg:"0.12Nm"`
	Spares      int         `key:"spares" rule:"min 0; max 100" says:"Spare threads beside those in use." eg:"2"`
	Crazed      int         `key:"crazed" rule:"min 0; max 100" says:"Threads given up for cracks in their bosses." eg:"1"`
}

// Witness are the fixture surfaces reachable with the part in, used as reference of the shift test.
type Witness struct {
	Rim []Point `key:"rim" rule:"min-count 2; max-count 2" says:"Two points on the rim that a dial reaches with the part in." sign:"X+ right, Y+ away from you, from bore 1" eg:"[[10, 5], [110, 5]]"`
}

// Change is what one record wrote back to a card. Its key makes writing it a
// second time, after a crash, harmless.
type Change struct {
	Key    string            `key:"" rule:"name"`
	Values map[string]string `key:"" rule:"inline"`
}
