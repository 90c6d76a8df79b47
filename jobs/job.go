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
	Path      string        // file it was read from, "" when built in
	Name      string        `key:"job" rule:"need" says:"Name of the job, as it stands on screen and paper." eg:"compass-box lid"`
	Unit      unit.System   `key:"unit" rule:"words mm|in" says:"Unit of the bare numbers in this file; any value may carry its own." eg:"mm"`
	Allowance unit.Length   `key:"allowance" rule:"above 0; max 5; default 0.05mm; default-in 0.002in" says:"Register allowance: how far the two sides may be out of register anywhere; most limits are shares of it." eg:"0.05"`
	Thickness unit.Length   `key:"thickness-allowance" rule:"above 0; max 5; default 0.1mm; default-in 0.004in" says:"Thickness allowance: how far the part's thickness may be out; the height of the first cut is held to a fifth of it." eg:"0.10"`
	Pace      string        `key:"pace" rule:"words first time|known job; default first time" says:"How much is said on the way: all of it the first time, less for a known job." eg:"first time"`
	Posted    string        `key:"posted" rule:"words turned|mirrored|by hand; default turned" says:"How the second side's program was made: from the part turned over, by mirroring, or by hand." eg:"turned"`
	Part      Part          `key:"part" says:"The part as it will be when finished."`
	Tools     map[int]Tool  `key:"tools" says:"The tools by their number at the machine." eg:"{3: {name: flat 3.175, dia: 3.175, stickout: 20}}"`
	Setups    []Setup       `key:"setups" rule:"need" says:"The clampings that the part goes through, by a name of your own; each has a kind." eg:"{side2: {kind: second-side, ...}}"`
	Card      string        `key:"machine" rule:"need; file" says:"File of the machine card, beside the job." eg:"bench.machine.yaml"`
	Operator  string        `key:"operator" says:"Who works; stands in the record and on the report." eg:"A. Miller"`
	Worth     unit.Duration `key:"worth" rule:"above 0; max 60000" says:"What the part costs to make again with its first side, as time at work; left out: it cannot be made again. With spares it says how much a walk reads." eg:"10 h"`
	Spares    int           `key:"spares" rule:"min 0; max 1000" says:"Blanks that lie ready beside this one." eg:"2"`
	Parts     int           `key:"parts" rule:"min 1" says:"How many are to be made." eg:"2"`
	Machine   Machine
	Fixture   Fixture                // card of the setup that names one; a job has at most one fixture
	Limits    map[string]unit.Length `key:"limits" rule:"above 0; reasoned" says:"Lengths in place of derived limits, by limit, or with a reason as {value: 0.03, reason: why}; fliptrue check --limits lists the limits with their rules." eg:"{repeat: 0.004, floor.form: {value: 0.03, reason: sawn plywood}}"`
	Reasons   map[string]string      // why a limit has its value, by limit, where the job says
	Materials map[string]Material    `key:"materials" says:"Material data of your own, by name: in place of shipped data, or for a material that is not shipped." eg:"{boxwood: {kc: [60, 100], source: own test cuts}}"`
	Hash      string                 // of the job file's bytes
	Notes     []Fault                // what is odd in the files but no fault: worth a look at the desk

	leaves map[string]string // every scalar as written, by its place in the file
	places map[string][2]int // line and column, by the same
}

// At is a fault of a value of the job, with its line where it was read from a file.
func (j *Job) At(path, what, hint string) Fault {
	r := newReader(j.Path)
	r.places = j.places
	return r.note(path, what, hint)
}

// reasons collects why limits have their values.
func (j *Job) reasons() {
	for name := range j.Limits {
		if why := j.leaves[Path("limits", name, "reason")]; why != "" {
			if j.Reasons == nil {
				j.Reasons = map[string]string{}
			}
			j.Reasons[name] = why
		}
	}
}

// Setup returns the setup of that name, or the one that is derived from another by its name (see Derived).
func (j *Job) Setup(name string) (*Setup, bool) {
	for i := range j.Setups {
		if j.Setups[i].Name == name {
			return &j.Setups[i], true
		}
	}
	return j.derived(name)
}

// Part is the part as it will be when finished.
type Part struct {
	Size     [3]float64       `key:"size" rule:"need; above 0; max 5000" says:"Length along X, width along Y and thickness along Z, all finished." eg:"[96, 64, 16]"`
	Material string           `key:"material" rule:"need" says:"Material of the part, shipped or under materials." eg:"walnut-stabilised"`
	Grain    string           `key:"grain" rule:"words x|y|z|burl" says:"How the fibres of wood run: along X or Y of the part, upright (z), or every way (burl). Left out: as if across both." eg:"x"`
	Stock    string           `key:"stock" says:"Which piece of material it is cut from." eg:"board 4, left half"`
	Features []Feature        `key:"features" says:"Places whose register matters, by a name of your own, in second-side program coordinates." sign:"X+ right, Y+ away from you, with side 2 up" eg:"{far corner: [96, 64]}"`
	Given    map[string]Given `key:"given" rule:"names thickness|width-x|width-y|moisture|hours|pickup|temperature|humidity" says:"What was measured of the part elsewhere." eg:"{thickness: {value: 16.02, u: 0.01, source: calliper}}"`
	Skin     [2]float64       `key:"skin" rule:"min 0; default 0.5mm; max 50" says:"What is left on side 1 and on side 2 to be cut off." eg:"[0.5, 0.5]"`
}

// Feature is a named place whose register matters.
type Feature struct {
	Name string `key:"" rule:"name"`
	At   Point  `key:"" rule:"inline"`
}

// Given is a measured value handed in with its standard uncertainty and where it came from.
type Given struct {
	Value  float64 `key:"value" rule:"need; min 0; per-name moisture=scalar|hours=scalar|temperature=temperature|humidity=scalar" says:"The measured value; a length, for moisture percent, for hours the hours since side 1 was cut, for temperature and humidity (percent) those of the day when side 1 was measured." eg:"16.02"`
	U      float64 `key:"u" rule:"min 0; per-name moisture=scalar|hours=scalar|temperature=scalar|humidity=scalar" says:"Its standard uncertainty, about half of what you would bet on." eg:"0.01"`
	Source string  `key:"source" rule:"need" says:"What it was measured with." eg:"calliper"`
}

// Tool is one entry of the tool list; lengths in mm, Point in degrees.
type Tool struct {
	Name     string  `key:"name" rule:"need" says:"What the tool is called in the shop." eg:"flat 3.175"`
	Dia      float64 `key:"dia" rule:"need; above 0; max 1000" says:"Cutting diameter." eg:"3.175"`
	Flute    float64 `key:"flute" rule:"above 0; max 1000" says:"Length of the flutes, from the tip." eg:"10"`
	Shank    float64 `key:"shank" rule:"above 0; max 1000" says:"Shank diameter." eg:"3.175"`
	Stickout float64 `key:"stickout" rule:"above 0; max 1000" says:"From the tip to the holder." eg:"20"`
	Neck     float64 `key:"neck" rule:"min 0; max 1000" says:"Length of a relieved neck beyond the flutes; left out without one." eg:"6"`
	Teeth    int     `key:"teeth" rule:"min 1; max 100" says:"Number of teeth." eg:"2"`
	Point    float64 `key:"point" rule:"kind degrees; above 0; max 180" says:"Point angle of a drill; left out for a cutter." eg:"118"`
	Ball     bool    `key:"ball" says:"The tool is ball-ended." eg:"true"`
	Corner   float64 `key:"corner" rule:"above 0" says:"Radius of the cutter's corner; left out for a sharp one and for a ball." eg:"0.5"`
	Holder   Holder  `key:"holder" says:"The holder above the stick-out, as a cylinder." eg:"{dia: 24, length: 30}"`
	Runout   float64 `key:"runout" rule:"min 0; max 5" says:"Total indicated runout as last measured; left out when not measured." eg:"0.01"`
	NeckDia  float64 `key:"neck-dia" rule:"above 0; max 1000" says:"Diameter of the relieved neck." eg:"2.9"`
	Spiral   string  `key:"spiral" rule:"words up-cut|down-cut|straight; default up-cut" says:"Which way the flutes carry chips, and with them the part." eg:"down-cut"`
	Feed     float64 `key:"feed" rule:"above 0; max 5" says:"Feed of a drill for each turn; left out when not said." eg:"0.05"`
}

// Holder is a cylinder above the tool's stick-out, mm.
type Holder struct {
	Dia    float64 `key:"dia" rule:"need; above 0; max 1000" says:"Diameter of the holder." eg:"24"`
	Length float64 `key:"length" rule:"need; above 0; max 1000" says:"Length of the holder, from where the tool comes out." eg:"30"`
}

// Setup is one clamping of the part.
type Setup struct {
	Name      string     `key:"" rule:"name; slug"`
	Kind      string     `key:"kind" rule:"need; words first-side|second-side|dowel-flip|soft-jaws|inspect|fixture|reuse|ball|tram" says:"What this clamping is: first-side in a vise, second-side in the pocket of its fixture, dowel-flip on two pins of it, soft-jaws in a nest that is cut into them, inspect measures what came out, fixture makes the fixture and writes its card, reuse takes it out of its box for another season, ball calibrates the probe, tram squares the spindle." eg:"second-side"`
	HoldDown  string     `key:"hold-down" rule:"words T|M|S|V; need kind=second-side|dowel-flip; only kind=second-side|dowel-flip" says:"T: fixture tapped before, part drilled under its straps. M: holes matched through part and fixture. S: holes made on side 1. V: vacuum or tape under the part, see hold." eg:"T"`
	Flip      string     `key:"flip" rule:"words x|y; need kind=@second; only kind=@second" says:"The axis that the part is turned about between the sides." sign:"x: the front edge goes over to the back; y: the left edge goes over to the right" eg:"x"`
	Z0        string     `key:"z0" rule:"words floor|finished top|top skin; need kind=@second" says:"What the program has its Z0 on: of a second side the pocket floor or the finished top; of a first side, under either word, the lowest place of the raw top less its skin." eg:"floor"`
	Against   []string   `key:"against" rule:"words left|right|away|toward; max-count 2; only kind=second-side|soft-jaws" says:"The two pocket walls that the part is pushed against." eg:"[left, away]"`
	Floating  bool       `key:"floating" rule:"only kind=second-side" says:"The part is pushed against no wall and stands in the middle of its pocket." eg:"true"`
	Card      string     `key:"fixture" rule:"file; need kind=@second|fixture|reuse; only kind=@second|fixture|reuse" says:"File of the fixture card, beside the job." eg:"lid.fixture.yaml"`
	Offset    string     `key:"offset" rule:"words G54|G55|G56|G57|G58|G59|G59.1|G59.2|G59.3; need kind=@second|first-side|fixture" says:"Work offset that this setup uses." eg:"G54"`
	Finds     string     `key:"finds" rule:"words probe|dial|edge finder|pin|paper; default probe" says:"What edges, bores and heights are found with." eg:"probe"`
	Hits      int        `key:"hits" rule:"min 3; max 1000; default 6" says:"Probe hits in a bore." eg:"6"`
	Bore2     bool       `key:"bore2" rule:"only kind=@second" says:"Read the second bore of the card as well." eg:"true"`
	Stations  int        `key:"stations" rule:"min 2; max 100; default 7" says:"Stations of a run along the edge." eg:"7"`
	Rock      bool       `key:"rock" says:"Kept for older files; nothing looks at it." eg:"true"`
	Screws    Screws     `key:"screws" rule:"need hold-down=T|M|S; only kind=@second" says:"The screws that hold the part down." eg:"{thread: M2, length: 8, through: 2.5, at: [[6, 6], [90, 6]]}"`
	Clamps    []Clamp    `key:"clamps" rule:"need hold-down=T|M; only kind=@second" says:"The straps that hold the part while it is drilled, by a name of your own." eg:"{left: {outline: [[-50, 26], [8, 26], [8, 38], [-50, 38]], top: 28, ...}}"`
	Cut       Cut        `key:"cut" says:"The heaviest planned cut." eg:"{tool: 3, ae: 1, ap: 0.2, fz: 0.02}"`
	Table     Outline    `key:"table" says:"Where clamps may stand, in program coordinates; left out: not checked." eg:"[[-150, -60], [250, -60], [250, 120], [-150, 120]]"`
	Obstacles []Standing `key:"obstacles" says:"What else stands on the table while the machine cuts, by a name of your own." eg:"{stop: {outline: [[-20, 70], [0, 70], [0, 80]], top: 12}}"`
	Programs  []Program  `key:"programs" says:"NC programs by their role, in the order in which they run: drill, top, or a name of your own." eg:"{drill: holes.nc, top: top.nc}"`
	Vise      Vise       `key:"vise" rule:"need kind=first-side; only kind=first-side" says:"The vise of a first side." eg:"{jaw: away, jaw-top: -11.5, grip: 5}"`
	Zero      string     `key:"zero" rule:"words corner|centre; need kind=first-side; only kind=first-side" says:"Where a first side has its X0 Y0: at a corner of the part, or in its middle." sign:"corner: the front left one of the finished part; X+ right, Y+ away from you" eg:"corner"`
	Hold      Face       `key:"hold" rule:"need hold-down=V; only hold-down=V" says:"What holds the part by the face under it." eg:"{kind: vacuum, area: [84, 52]}"`
	Jaws      Jaws       `key:"jaws" rule:"need kind=soft-jaws; only kind=soft-jaws" says:"How soft jaws grip the part in their nest." eg:"{shape: walls, wall: 2.6, span: 104, grip: 5, force: 250N, most: 400N, source: own test, plug: true}"`
	Dowels    Dowels     `key:"dowels" rule:"only kind=dowel-flip" says:"How the turned part lies on its two pins." eg:"{push: away, land: 1.2}"`
	Inspect   Inspect    `key:"inspect" rule:"only kind=inspect" says:"What of the finished part is measured, and against what." eg:"{wall: [2.4, 0.05], floor: [2, 0.05]}"`
	Make      Make       `key:"make" rule:"need kind=fixture; only kind=fixture" says:"What a fixture in the making is programmed to be." eg:"{tool: 3, bore: 8, bore2: [120, 0], blank: 24, pads: {left: {wall: left, at: [45, 52]}, ...}}"`
	From      string     // of a derived setup the one that it is derived from, "" for those of the file
	HolesHere bool       `key:"holes-here" rule:"only kind=first-side" says:"The clearance holes for the screws of side 2 are drilled in this setup." eg:"true"`
}

// Face is a part held by the face under it, in the middle of the part: vacuum inside a seal, or double-sided tape.
type Face struct {
	Kind   string            `key:"kind" rule:"need; words vacuum|tape" says:"vacuum, or tape with or without adhesive." eg:"vacuum"`
	Area   [2]float64        `key:"area" rule:"need; above 0; max 5000" says:"Length along X and width along Y of what holds: inside the seal line, or the tape." eg:"[84, 52]"`
	Tested Scrap             `key:"tested" rule:"need kind=tape; only kind=tape" says:"A weight hung sideways on scrap of the same two faces with the same tape." eg:"{load: 60N, area: [25, 25], minutes: 10, at: 30C, source: own test}"`
	Hot    *unit.Temperature `key:"hot" rule:"need kind=tape; only kind=tape" says:"The warmest that the film becomes while it is cut." eg:"28C"`
	Hollow [2]float64        `key:"hollow" rule:"above 0; max 5000; only kind=vacuum" says:"The largest open hollow under the part, length and width; left out: the face is full." eg:"[10, 10]"`
	Floor  float64           `key:"floor" rule:"above 0; max 500; only kind=vacuum" says:"The thinnest floor of the part over a hollow, once it is cut; left out: the part's thickness." eg:"2"`
}

// Scrap is a test of tape on scrap.
type Scrap struct {
	Load    unit.Force        `key:"load" rule:"need; above 0" says:"The weight that it bore." eg:"60N"`
	Area    [2]float64        `key:"area" rule:"need; above 0; max 5000" says:"Length and width of the tape that was tested." eg:"[25, 25]"`
	Minutes float64           `key:"minutes" rule:"need; kind scalar; above 0; max 100000" says:"How long it hung, in minutes." eg:"10"`
	At      *unit.Temperature `key:"at" rule:"need" says:"Temperature of the film in the test." eg:"30C"`
	Source  string            `key:"source" rule:"need" says:"Who tested it, and when." eg:"own test, 2026-03-01"`
}

// Inspect says what of the finished part is measured on the bench, side 2 up.
type Inspect struct {
	Short  bool       `key:"short" says:"One step a side, for later parts while all is quiet: turn and squareness are then not told." eg:"true"`
	At     [2]float64 `key:"at" rule:"above 0; max 2500" says:"How far from the middles of the faces their two steps are read: along Y on the left and right faces, along X on the others; left out: 0.7 of the half width." eg:"[22, 36]"`
	Wall   [2]float64 `key:"wall" rule:"above 0; max 500" says:"Thickness of the side walls and how far it may be out; left out: not measured." eg:"[2.4, 0.05]"`
	Cavity string     `key:"cavity" rule:"words side 1|side 2; default side 1" says:"Which side cut the inside of the walls." eg:"side 1"`
	Floor  [2]float64 `key:"floor" rule:"above 0; max 500" says:"Thickness of the floor and how far it may be out; left out: not measured." eg:"[2, 0.05]"`
	Inset  float64    `key:"inset" rule:"above 0; default 8mm; default-in 0.3in; max 2500" says:"How far from the outer faces the floor is measured in its corners." eg:"8"`
	Faces  []Point    `key:"faces" rule:"max-count 2" says:"Two places of the finished top, far apart, whose height over the fixture's rim is read while the part is still screwed down; left out: not read." sign:"X+ right, Y+ away from you" eg:"[[8, 8], [88, 56]]"`
	Holes  []string   `key:"holes" rule:"max-count 2" says:"Features of the part that are holes cut by side 2, measured from side 1's faces with a pin; left out: none." eg:"[dial bore]"`
	Finish *Finish    `key:"finish" says:"What is sanded off afterwards; left out: left as cut." eg:"{most: 0.05, least: 2.2}"`
	Mate   *Mate      `key:"mate" says:"What the part goes into or over; left out: not tried." eg:"{recess: [91.75, 91.8], lip: [91.55, 91.6]}"`
}

// Finish is what sanding may take.
type Finish struct {
	Most  float64 `key:"most" rule:"above 0; default 0.05mm; default-in 0.002in; max 1" says:"Most of a step that is sanded away; by hand 0.05 mm on wood, 0.02 on what is to be polished." eg:"0.05"`
	Least float64 `key:"least" rule:"above 0; max 500" says:"Thinnest that a wall may become; left out: its thickness less what it may be out." eg:"2.2"`
}

// Mate is a lip that goes into a recess.
type Mate struct {
	Recess [2]float64 `key:"recess" rule:"need; above 0; pair; max 5000" says:"Least and most width of the recess." eg:"[91.75, 91.8]"`
	Lip    [2]float64 `key:"lip" rule:"need; above 0; pair; max 5000" says:"Least and most width of the lip." eg:"[91.55, 91.6]"`
	Growth float64    `key:"growth" rule:"min 0; max 10" says:"How much nearer a side the two may come by damp and heat." eg:"0.02"`
	Film   float64    `key:"film" rule:"min 0; max 10" says:"Finish in one gap, both faces together." eg:"0.02"`
}

// Make is a fixture as its program has it. Places count from bore 1.
type Make struct {
	Tool  int     `key:"tool" rule:"need; min 1" says:"Number of the one tool that finishes pads, bores and edge." eg:"3"`
	Bore  float64 `key:"bore" rule:"need; above 0; max 500" says:"Diameter of both bores as programmed." eg:"8"`
	At    Point   `key:"at" says:"Place of bore 1 in the fixture's program; left out: its zero." sign:"X+ right, Y+ away from you, from the program's zero" eg:"[0, 0]"`
	Bore2 Point   `key:"bore2" rule:"need" says:"Place of bore 2 as programmed." sign:"X+ right, Y+ away from you, from bore 1" eg:"[120, 0]"`
	Blank float64 `key:"blank" rule:"need; above 0; max 500" says:"Thickness of the blank." eg:"24"`
	Pads  []Pad   `key:"pads" rule:"need; min-count 3; max-count 3" says:"The three datum pads, by a name of your own: two on one wall, one on the other." eg:"{left: {wall: left, at: [45, 52]}, away 1: {wall: away, at: [57, 84]}, away 2: {wall: away, at: [129, 84]}}"`
}

// Pad is one datum pad.
type Pad struct {
	Name string `key:"" rule:"name"`
	Wall string `key:"wall" rule:"need; words left|right|away|toward" says:"The pocket wall that it stands on." eg:"left"`
	At   Point  `key:"at" rule:"need" says:"Middle of its face as programmed." sign:"X+ right, Y+ away from you, from bore 1" eg:"[45, 52]"`
}

// Jaws are soft jaws with a nest cut into them, the fixed jaw being the long stop of their card.
type Jaws struct {
	Shape  string     `key:"shape" rule:"need; words walls|ring" says:"What is gripped: two straight walls, or a ring." eg:"walls"`
	Wall   float64    `key:"wall" rule:"need; above 0; max 500" says:"Thinnest wall that the jaws press." eg:"2.6"`
	Span   float64    `key:"span" rule:"above 0; max 5000; need shape=walls; only shape=walls" says:"Free length of that wall." eg:"104"`
	Wrap   float64    `key:"wrap" rule:"kind degrees; above 0; max 90; need shape=ring; only shape=ring" says:"How far round to either side of a jaw's middle the nest holds the ring, in degrees." eg:"75"`
	Grip   float64    `key:"grip" rule:"need; above 0; max 500" says:"Height that the nest grips." eg:"5"`
	Force  unit.Force `key:"force" rule:"need; above 0; max 200000" says:"Closing force at the mark, at least." eg:"250N"`
	Most   unit.Force `key:"most" rule:"need; above 0; max 200000" says:"Closing force at the mark, at most." eg:"400N"`
	Source string     `key:"source" rule:"need" says:"Where that force is from: your own test with a scale, or a spring's maker." eg:"own test with a scale"`
	Plug   bool       `key:"plug" says:"A plug fills the inside of the part while it is gripped." eg:"true"`
}

// Dowels are the two pins that the turned part lies on, and its reamed holes; the pins' places are on the fixture card.
type Dowels struct {
	Push string  `key:"push" rule:"words left|right|away|toward" says:"The side that the part is pushed to, across the line of the pins, until both bear; left out: it is not pushed." eg:"away"`
	Land float64 `key:"land" rule:"above 0; max 50" says:"Width of the land of the second pin, a diamond across the line of the pins; left out: it is round as well." eg:"1.2"`
	Play float64 `key:"play" rule:"above 0; max 1" says:"Planned play of the holes: hole less pin, as a diameter; left out: 0.01 mm." eg:"0.01"`

	Height float64 `key:"height" rule:"above 0; max 500" says:"How high the pins stand over the face that the part lies on; left out: not checked." eg:"9"`
}

// Screws are the hold-down screws of a second side.
type Screws struct {
	Thread  string  `key:"thread" rule:"need" says:"Thread of the screws." eg:"M2"`
	Length  float64 `key:"length" rule:"need; above 0; max 500" says:"Length of a screw under its head." eg:"8"`
	Washer  float64 `key:"washer" rule:"above 0; max 200" says:"Outside diameter of the washers; left out without washers." eg:"5"`
	WasherT float64 `key:"washer-thickness" rule:"above 0; default 0.3mm; max 20" says:"Thickness of a washer." eg:"0.3"`
	Through float64 `key:"through" rule:"need; above 0; max 500" says:"Thickness of the part under the washer." eg:"2.5"`
	Head    float64 `key:"head" rule:"above 0; max 100" says:"Height of a screw head; left out: by the thread's table." eg:"1.6"`
	At      []Point `key:"at" rule:"need; min-count 1" says:"Where the screws stand, in second-side program coordinates." sign:"X+ right, Y+ away from you" eg:"[[6, 6], [90, 6], [90, 58], [6, 58]]"`
	Bore    float64 `key:"counterbore" rule:"above 0" says:"Diameter of the counterbores about the screws where they were cut into this side beforehand; left out where a program cuts them." eg:"7"`
	Seat    float64 `key:"seat" says:"Height of the face under the washer; left out: through above the face that the part rests on." sign:"+ above the program's Z0, - below it" eg:"2.5"`
	Wall    bool    `key:"wall" says:"The pocket walls take part of the cutting load." eg:"true"`
	Class   string  `key:"class" says:"Strength class as stamped on the head; left out: the weakest usual one." eg:"A2-70"`
	K       float64 `key:"torque-coefficient" rule:"kind scalar; above 0; max 1" says:"Torque coefficient K (nut factor): torque = K times diameter times tension; left out: a range." eg:"0.2"`
}

// Clamp is one strap. Heel is heel to bolt, Tip bolt to tip, mm; Torque in N·mm.
type Clamp struct {
	Name    string      `key:"" rule:"name"`
	Outline Outline     `key:"outline" rule:"need" says:"The strap from above, a convex outline in program coordinates." sign:"X+ right, Y+ away from you" eg:"[[-50, 26], [8, 26], [8, 38], [-50, 38]]"`
	Top     float64     `key:"top" rule:"need" says:"Its highest point, nut and stud included." sign:"+ above the program's Z0, - below it" eg:"28"`
	Heel    float64     `key:"heel" rule:"need; above 0; max 2000" says:"From the heel block to the bolt." eg:"30"`
	Tip     float64     `key:"tip" rule:"need; above 0; max 2000" says:"From the bolt to the tip." eg:"20"`
	Bolt    string      `key:"bolt" rule:"need" says:"Thread of the bolt." eg:"M6"`
	Torque  unit.Torque `key:"torque" rule:"need; above 0; max 500000" says:"Torque that the nut is tightened with." eg:"1Nm"`
	TipAt   *Point      `key:"tip-at" says:"Where the tip presses; left out: the point of the outline nearest the part's middle." sign:"X+ right, Y+ away from you" eg:"[6, 32]"`
}

// Cut is the heaviest planned cut of a setup, mm.
type Cut struct {
	Tool            int      `key:"tool" rule:"need; min 1" says:"Number of the tool that cuts." eg:"3"`
	Ae              float64  `key:"ae" rule:"need; above 0; max 500" says:"Width of the cut." eg:"1"`
	Ap              float64  `key:"ap" rule:"need; above 0; max 500" says:"Depth of the cut." eg:"0.2"`
	Fz              float64  `key:"fz" rule:"need; above 0; max 5" says:"Feed for each tooth." eg:"0.02"`
	NoInsideCorners bool     `key:"no-inside-corners" says:"No inside corner, where a cutter is buried further than its width of cut says." eg:"true"`
	Height          float64  `key:"height" rule:"above 0; max 2000" says:"Height of the cutting force above the face that the part rests on; left out: the part's thickness." eg:"16"`
	Lowest          float64  `key:"lowest" rule:"default NaN" says:"Lowest Z that the tip reaches over a screw head, on a first side over the jaws." sign:"+ above the program's Z0, - below it" eg:"16"`
	Witness         float64  `key:"witness" rule:"above 0; max 5" says:"How far outside the final outline the finisher first cuts four small steps, to be measured against side 1; left out without." eg:"0.3"`
	Regions         []Region `key:"regions" says:"Where the tip goes, by a name of your own, as far as it is known at the desk." eg:"{rim: {outline: [[0, 0], [96, 0], [96, 64], [0, 64]], lowest: 12}}"`
}

// Region is a convex region that the tip of a tool may be anywhere in, at Lowest or above.
type Region struct {
	Name    string  `key:"" rule:"name"`
	Outline Outline `key:"outline" rule:"need" says:"A convex outline that the tip stays in, in program coordinates." sign:"X+ right, Y+ away from you" eg:"[[0, 0], [96, 0], [96, 64], [0, 64]]"`
	Lowest  float64 `key:"lowest" rule:"need" says:"Lowest Z of the tip there." sign:"+ above the program's Z0, - below it" eg:"12"`
	Tool    int     `key:"tool" rule:"min 1" says:"Number of the tool; left out: the tool of the cut." eg:"3"`
}

// Standing is something that stands on the table: a convex outline and the height of its top.
type Standing struct {
	Name    string  `key:"" rule:"name"`
	Outline Outline `key:"outline" rule:"need" says:"It from above, a convex outline in program coordinates." sign:"X+ right, Y+ away from you" eg:"[[-20, 70], [0, 70], [0, 80]]"`
	Top     float64 `key:"top" rule:"need" says:"Its highest point." sign:"+ above the program's Z0, - below it" eg:"12"`
}

// Program is one NC program of a setup, by its role.
type Program struct {
	Role string `key:"" rule:"name"`
	File string `key:"" rule:"inline; file"`
}

// Vise describes the first side's clamping.
type Vise struct {
	Jaw      string     `key:"jaw" rule:"need; words away|toward" says:"Side of the fixed jaw, seen from where you stand." eg:"away"`
	JawTop   float64    `key:"jaw-top" rule:"need" says:"Height of the jaw top." sign:"+ above the program's Z0, - below it" eg:"-11.5"`
	Parallel float64    `key:"parallel" rule:"min 0; max 500" says:"Height of the parallels; left out without." eg:"20"`
	Grip     float64    `key:"grip" rule:"need; above 0; max 500" says:"How deep the jaws grip, as planned." eg:"5"`
	Stop     string     `key:"stop" rule:"words left|right" says:"Side of the stop; left out without." eg:"left"`
	Wall     float64    `key:"wall" rule:"min 0; max 500" says:"Thinnest wall that stands while the vise squeezes; left out when there is none." eg:"2"`
	WallSpan float64    `key:"wall-span" rule:"above 0; max 5000" says:"Its free length." eg:"40"`
	Force    unit.Force `key:"force" rule:"above 0; max 200000" says:"Closing force; left out when not known." eg:"2000N"`
}

// Material is what the hold-down arithmetic needs of a material; a zero value means "not given".
type Material struct {
	Kc     [2]float64 `key:"kc" rule:"kind stress; pair; above 0" says:"Specific cutting force at a chip of 1 mm, lowest and highest, in N/mm2 (MPa)." eg:"[60, 100]"`
	Mc     [2]float64 `key:"mc" rule:"kind scalar; pair; min 0" says:"Its exponent: how fast the force for each area grows as the chip gets thinner." eg:"0.2"`
	Mu     [2]float64 `key:"mu" rule:"kind scalar; pair; above 0; max 5" says:"Friction of the part on its seat, lowest and highest." eg:"[0.15, 0.3]"`
	Crush  [2]float64 `key:"crush" rule:"kind stress; pair; above 0" says:"Pressure that it bears under a screw head, in N/mm2 (MPa)." eg:"[5, 10]"`
	Tau    [2]float64 `key:"tau" rule:"kind stress; pair; above 0" says:"Shear strength in a thread under lasting load, in N/mm2 (MPa)." eg:"[8, 12]"`
	E      [2]float64 `key:"e" rule:"kind stress; pair; above 0" says:"Modulus of elasticity, in N/mm2 (MPa)." eg:"[1000, 12000]"`
	Alpha  [2]float64 `key:"alpha" rule:"kind scalar; pair; min 0" says:"Thermal expansion for each kelvin: 23.6e-6 is written 0.0000236." eg:"0.00007"`
	Source string     `key:"source" rule:"need" says:"Where the numbers are from." eg:"own test cuts, May"`
}
