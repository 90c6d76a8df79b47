package jobs

import "fliptrue/calc/unit"

// Point is a place in plan, mm.
type Point struct{ X, Y float64 }

// Outline is a closed polygon in plan, mm, without the repeated first point.
type Outline []Point

// Job is one job file with the cards it names.
//
// Positions in a setup are in that setup's program coordinates (a second side:
// from its part zero, z from its Z0); Part.Features are in the second side's.
type Job struct {
	Path      string       // file it was read from, "" when built in
	Name      string       `key:"job" rule:"need"`
	Unit      unit.System  `key:"unit" rule:"words mm|in"`
	Allowance unit.Length  `key:"allowance" rule:"above 0; max 5; default 0.05mm; default-in 0.002in"` // register allowance, mm
	Pace      string       `key:"pace" rule:"words first time|known job; default first time"`
	Posted    string       `key:"posted" rule:"words turned|mirrored|by hand; default turned"` // how the second side's program was made: "turned" (default), "mirrored", "by hand"
	Part      Part         `key:"part"`
	Tools     map[int]Tool `key:"tools"`
	Setups    []Setup      `key:"setups" rule:"need"`        // in file order
	Card      string       `key:"machine" rule:"need; file"` // the machine card's file
	Operator  string       `key:"operator"`
	Parts     int          `key:"parts" rule:"min 1"` // how many are to be made, 0 when not said
	Machine   Machine
	Fixture   Fixture                // card of the setup that names one; a job has at most one fixture
	Limits    map[string]unit.Length `key:"limits" rule:"above 0"` // lengths that replace a derived limit, by limit id
	Materials map[string]Material    `key:"materials"`             // values that replace shipped material data, by material name
	Hash      string                 // of the job file's bytes
	Notes     []Fault                // what is odd in the files but no fault: worth a look at the desk

	leaves map[string]string // every scalar as written, by its place in the file
}

// Setup returns the setup of that name.
func (j *Job) Setup(name string) (*Setup, bool) {
	for i := range j.Setups {
		if j.Setups[i].Name == name {
			return &j.Setups[i], true
		}
	}
	return nil, false
}

// Part is the part as it will be when finished.
type Part struct {
	Size     [3]float64       `key:"size" rule:"need; above 0"` // L, W, T finished, mm
	Material string           `key:"material" rule:"need"`
	Stock    string           `key:"stock"`                                                              // which piece of material
	Features []Feature        `key:"features"`                                                           // in file order, second-side program coordinates
	Given    map[string]Given `key:"given" rule:"names thickness|width-x|width-y|moisture|hours|pickup"` // facts of the part measured elsewhere: thickness, width-x, width-y, moisture, hours; pickup: half-width of side 1's pickup
	Skin     [2]float64       `key:"skin" rule:"min 0; default 0.5mm"`                                   // side 1 and side 2 skins, mm; default 0.5 each
}

// Feature is a named place whose register matters.
type Feature struct {
	Name string `key:"" rule:"name"`
	At   Point  `key:"" rule:"inline"`
}

// Given is a measured value handed in with its standard uncertainty and where it came from.
type Given struct {
	Value  float64 `key:"value" rule:"need; min 0; per-name moisture=scalar|hours=scalar"`
	U      float64 `key:"u" rule:"min 0; per-name moisture=scalar|hours=scalar"`
	Source string  `key:"source" rule:"need"`
}

// Tool is one entry of the tool list; lengths in mm, Point in degrees.
type Tool struct {
	Name     string  `key:"name" rule:"need"`
	Dia      float64 `key:"dia" rule:"need; above 0"`
	Flute    float64 `key:"flute" rule:"above 0"`
	Shank    float64 `key:"shank" rule:"above 0"`
	Stickout float64 `key:"stickout" rule:"above 0"`
	Neck     float64 `key:"neck" rule:"min 0"` // neck length beyond the flute, 0 when there is none
	Teeth    int     `key:"teeth" rule:"min 1; max 100"`
	Point    float64 `key:"point" rule:"kind degrees; above 0; max 180"` // drill point angle, degrees; 0 for a cutter
	Ball     bool    `key:"ball"`                                        // ball-ended
	Holder   Holder  `key:"holder"`
	Runout   float64 `key:"runout" rule:"min 0; max 5"` // total indicated, mm; 0 when not measured
	NeckDia  float64 `key:"neck-dia" rule:"above 0"`    // of a relieved neck
	Spiral   string  `key:"spiral" rule:"words up-cut|down-cut|straight; default up-cut"`
	Feed     float64 `key:"feed" rule:"above 0; max 5"` // of a drill, mm per turn; 0 when not said
}

// Holder is a cylinder above the tool's stick-out, mm.
type Holder struct {
	Dia    float64 `key:"dia" rule:"need; above 0"`
	Length float64 `key:"length" rule:"need; above 0"`
}

// Setup is one clamping of the part.
type Setup struct {
	Name      string     `key:"" rule:"name; slug"`
	Kind      string     `key:"kind" rule:"need; words first-side|second-side|ball|tram"`
	HoldDown  string     `key:"hold-down" rule:"words T|M|S; need kind=second-side; only kind=second-side"`
	Flip      string     `key:"flip" rule:"words x|y; need kind=second-side; only kind=second-side"`             // x or y: the axis the part is turned about
	Z0        string     `key:"z0" rule:"words floor|finished top|top skin; need kind=second-side"`              // "floor" or "finished top" ("top skin" on a first side)
	Against   []string   `key:"against" rule:"words left|right|away|toward; max-count 2; only kind=second-side"` // datum walls: left, right, away, toward; empty when Floating
	Floating  bool       `key:"floating" rule:"only kind=second-side"`
	Card      string     `key:"fixture" rule:"file; need kind=second-side; only kind=second-side"` // the fixture card's file
	Offset    string     `key:"offset" rule:"words G54|G55|G56|G57|G58|G59|G59.1|G59.2|G59.3; need kind=second-side|first-side"`
	Finds     string     `key:"finds" rule:"words probe|dial|edge finder|pin|paper; default probe"`
	Hits      int        `key:"hits" rule:"min 3; max 1000; default 6"`    // hits in a bore, default 6
	Bore2     bool       `key:"bore2" rule:"only kind=second-side"`        // read the card's second bore as well
	Stations  int        `key:"stations" rule:"min 2; max 100; default 7"` // stations of an edge run, default 7
	Rock      bool       `key:"rock"`                                      // unused by default
	Screws    Screws     `key:"screws" rule:"need kind=second-side; only kind=second-side"`
	Clamps    []Clamp    `key:"clamps" rule:"need hold-down=T|M; only kind=second-side"` // in file order
	Cut       Cut        `key:"cut"`
	Table     Outline    `key:"table"`                                                                       // where clamps may stand, program coordinates; nil: not checked
	Obstacles []Standing `key:"obstacles"`                                                                   // what else stands there while the machine cuts: bolts, stops
	Programs  []Program  `key:"programs"`                                                                    // in file order
	Vise      Vise       `key:"vise" rule:"need kind=first-side; only kind=first-side"`                      // first side
	Zero      string     `key:"zero" rule:"words corner|centre; need kind=first-side; only kind=first-side"` // first side: corner or centre
	HolesHere bool       `key:"holes-here" rule:"only kind=first-side"`                                      // first side: the clearance holes for side 2 are drilled in this setup
}

// Screws are the hold-down screws of a second side.
type Screws struct {
	Thread  string  `key:"thread" rule:"need"` // M2, 2-56 ...
	Length  float64 `key:"length" rule:"need; above 0"`
	Washer  float64 `key:"washer" rule:"above 0"` // outside diameter, mm; 0 without
	WasherT float64 `key:"washer-thickness" rule:"above 0; default 0.3mm"`
	Through float64 `key:"through" rule:"need; above 0"` // part thickness under the washer
	Head    float64 `key:"head" rule:"above 0"`          // head height; 0 means from the thread's table
	At      []Point `key:"at" rule:"need; min-count 1"`
	Seat    float64 `key:"seat"`  // z of the washer seat in program coordinates; default Through above the seat face
	Wall    bool    `key:"wall"`  // pocket walls take part of the load
	Class   string  `key:"class"` // strength class as stamped on the head; "" reckons with the weakest usual one
	K       float64 `key:"torque-coefficient" rule:"kind scalar; above 0; max 1"`
}

// Clamp is one strap. Heel is heel to bolt, Tip bolt to tip, mm; Torque in N·mm.
type Clamp struct {
	Name    string      `key:"" rule:"name"`
	Outline Outline     `key:"outline" rule:"need"`
	Top     float64     `key:"top" rule:"need"`
	Heel    float64     `key:"heel" rule:"need; above 0"`
	Tip     float64     `key:"tip" rule:"need; above 0"`
	Bolt    string      `key:"bolt" rule:"need"`
	Torque  unit.Torque `key:"torque" rule:"need; above 0"`
	TipAt   *Point      `key:"tip-at"` // where the tip presses; default: the outline's point nearest the part's middle
}

// Cut is the heaviest planned cut of a setup, mm.
type Cut struct {
	Tool            int      `key:"tool" rule:"need; min 1"`
	Ae              float64  `key:"ae" rule:"need; above 0"`
	Ap              float64  `key:"ap" rule:"need; above 0"`
	Fz              float64  `key:"fz" rule:"need; above 0"`
	NoInsideCorners bool     `key:"no-inside-corners"`
	Height          float64  `key:"height" rule:"above 0"`     // height of the force above the seat; default the part's thickness
	Lowest          float64  `key:"lowest" rule:"default NaN"` // lowest z over a screw head; NaN when not given
	Regions         []Region `key:"regions"`                   // where the tip goes, as far as it is stated at the desk
}

// Region is a convex region that the tip of a tool may be anywhere in, at Lowest or above.
type Region struct {
	Name    string  `key:"" rule:"name"`
	Outline Outline `key:"outline" rule:"need"`
	Lowest  float64 `key:"lowest" rule:"need"`
	Tool    int     `key:"tool" rule:"min 1"` // 0: the tool of the cut
}

// Standing is something that stands on the table: a convex outline and the height of its top.
type Standing struct {
	Name    string  `key:"" rule:"name"`
	Outline Outline `key:"outline" rule:"need"`
	Top     float64 `key:"top" rule:"need"`
}

// Program is one NC program of a setup, by its role.
type Program struct {
	Role string `key:"" rule:"name"`
	File string `key:"" rule:"inline; file"`
}

// Vise describes the first side's clamping.
type Vise struct {
	Jaw      string     `key:"jaw" rule:"need; words away|toward"` // side of the fixed jaw: away or toward
	JawTop   float64    `key:"jaw-top" rule:"need"`                // z of the jaw top in program coordinates
	Parallel float64    `key:"parallel" rule:"min 0"`              // parallel height
	Grip     float64    `key:"grip" rule:"need; above 0"`          // grip height planned
	Stop     string     `key:"stop" rule:"words left|right"`       // left or right, "" without
	Wall     float64    `key:"wall" rule:"min 0"`                  // thinnest wall left standing while the vise squeezes, mm; 0 when none
	WallSpan float64    `key:"wall-span" rule:"above 0"`           // its free length, mm
	Force    unit.Force `key:"force" rule:"above 0"`               // closing force, 0 when not known
}

// Material is what the hold-down arithmetic needs of a material; a zero value means "not given".
type Material struct {
	Kc     [2]float64 `key:"kc" rule:"kind stress; pair; above 0"` // low and high end
	Mc     [2]float64 `key:"mc" rule:"kind scalar; pair; min 0"`
	Mu     [2]float64 `key:"mu" rule:"kind scalar; pair; above 0; max 5"`
	Crush  [2]float64 `key:"crush" rule:"kind stress; pair; above 0"`
	Tau    [2]float64 `key:"tau" rule:"kind stress; pair; above 0"`
	E      [2]float64 `key:"e" rule:"kind stress; pair; above 0"`
	Alpha  [2]float64 `key:"alpha" rule:"kind scalar; pair; min 0"`
	Source string     `key:"source" rule:"need"`
}
