package facts

import (
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// The facts with their types. The order of the fields is that of the vectors in records; what each
// number means is said in doc.go. Lengths mm, angles rad, machine coordinates unless it says otherwise.
var (
	Identity  = fold.NewFact[IdentityFact]("identity")
	Length    = fold.NewFact[LengthFact]("length", "l")
	Skew      = fold.NewFact[SkewFact]("skew", "theta")
	Bore      = fold.NewFact[BoreFact]("bore", "x,y", "x,y,theta,scale")
	Floor     = fold.NewFact[FloorFact]("floor", "z")
	Offset    = fold.NewFact[OffsetFact]("offset", "bx,by,theta,q")
	Echo      = fold.NewFact[Done]("echo")
	Program   = fold.NewFact[ProgramFact]("program")
	Seat      = fold.NewFact[SeatFact]("seat")
	Gripped   = fold.NewFact[GrippedFact]("seat") // of a first side: in the vise
	Clamps    = fold.NewFact[CountFact]("clamps")
	Baseline  = fold.NewFact[BaselineFact]("baseline")
	Holes     = fold.NewFact[CountFact]("holes")
	Threads   = fold.NewFact[ThreadsFact]("threads")
	Screws    = fold.NewFact[ScrewsFact]("screws")
	Shift     = fold.NewFact[ShiftFact]("shift", "dx,dy,rot")
	Witnessed = fold.NewFact[WitnessedFact]("witnessed", "dx,dy,rot")
	Release   = fold.NewFact[Done]("release")
	Ball      = fold.NewFact[BallFact]("ball")
	Tram      = fold.NewFact[TramFact]("tram", "x,y")
	Column    = fold.NewFact[ColumnFact]("tram/column")
	Squared   = fold.NewFact[SquarenessFact]("squareness", "eps")
	Stock     = fold.NewFact[StockFact]("stock")
	Corner    = fold.NewFact[CornerFact]("corner", "x0,y0")
	Top       = fold.NewFact[TopFact]("top", "z0")
	Drift     = fold.NewFact[DriftFact]("drift")
	Thickness = fold.NewFact[ThicknessFact]("part/thickness", "t")
	WidthX    = fold.NewFact[WidthFact]("part/width-x", "w")
	WidthY    = fold.NewFact[WidthFact]("part/width-y", "w")
	Wall      = fold.NewFact[WallFact]("part/wall", "t")
	SeatFace  = fold.NewFact[SeatFaceFact]("part/seat", "zero")
	Edges     = fold.NewFact[EdgesFact]("part/edges", "x,y")
	PartHoles = fold.NewFact[CountFact]("part/holes")
	Spring    = fold.NewFact[SpringFact]("part/spring")
	Located   = fold.NewFact[LocatedFact]("seat/located", "dx,dy,rot")
	Pins      = fold.NewFact[PinsFact]("bore/pins", "d1,d2,apart")
	Nest      = fold.NewFact[NestFact]("identity/nest")
	Grip      = fold.NewFact[GripFact]("grip", "width")
	Reamed    = fold.NewFact[ReamedFact]("reamed", "d1,d2,apart")
	Benched   = fold.NewFact[BenchedFact]("inspect/benched")
	Mismatch  = fold.NewFact[MismatchFact]("mismatch", "dx,dy,turn,size,square")
	Walls     = fold.NewFact[WallsFact]("walls", "dx,dy,thicker")
	FloorLeft = fold.NewFact[FloorLeftFact]("floor-left", "thick,leanx,leany")
	Outside   = fold.NewFact[OutsideFact]("outside")
	Mated     = fold.NewFact[Done]("mate")
	Corrected = fold.NewFact[CorrectionFact]("correction")
	Warmed    = fold.NewFact[WarmedFact]("warmed")
	Clean     = fold.NewFact[Done]("clean")
	Stood     = fold.NewFact[StoodFact]("stood")
	Edged     = fold.NewFact[EdgedFact]("edged", "dx,dy")
	Finish    = fold.NewFact[FinishFact]("finish")
	Inspected = fold.NewFact[Done]("inspect/done")
	Stopped   = fold.NewFact[StoppedFact]("stopped")
	Lost      = fold.NewFact[LostFact]("lost")
	Restart   = fold.NewFact[RestartFact]("restart")
	Hours     = fold.NewFact[HoursFact]("part/hours")
	Air       = fold.NewFact[AirFact]("part/air")
)

// Done is an act that was done: no number.
type Done struct{}

// IdentityFact is the fixture mounted and identified.
type IdentityFact struct {
	T        float64 `fact:"t"`         // the fixture's, °C; 20 and U 0 when not asked
	U        float64 `fact:"u,opt"`     // its standard uncertainty, K
	Measured float64 `fact:"m,bare"`    // 1: by a thermometer
	Near     float64 `fact:"near,bare"` // 1: it stands where it was made, within kit.NearBy
}

// LengthFact is a tool's length from the spindle's gauge line; length/probe is the probe's.
type LengthFact struct {
	L   unit.Length `fact:"l"`
	Cov fold.Cov
	Dof float64
}

// SkewFact is the direction of the fixture's edge less its as-made zero, CCW +.
type SkewFact struct {
	Theta        unit.Angle  `fact:"theta"`
	Straightness unit.Length `fact:"straightness,opt"`
	Cov          fold.Cov
	Dof          float64
}

// BoreFact is bore 1, pin or square, corrected once; scale and skew from two bores.
type BoreFact struct {
	X     unit.Length `fact:"x"`
	Y     unit.Length `fact:"y"`
	Dia   unit.Length `fact:"dia,opt"` // 0: not measured
	Scale float64     `fact:"scale,bare"`
	Theta unit.Angle  `fact:"theta,bare"`
	Cov   fold.Cov
	Dof   float64
}

// Along is the bore's place along an axis: x or y.
func (b BoreFact) Along(axis string) unit.Length {
	return map[string]unit.Length{"x": b.X, "y": b.Y}[axis]
}

// FloorFact is the pocket's floor: Z offset in its middle, the length in force and the block taken off.
type FloorFact struct {
	Z     unit.Length `fact:"z"`
	TiltX unit.Angle  `fact:"tiltx"`
	TiltY unit.Angle  `fact:"tilty"`
	Rim   unit.Length `fact:"rim,opt"` // 0: not touched
	Block unit.Length `fact:"block,opt"`
	Cov   fold.Cov
	Dof   float64
}

// OffsetFact is what the control is to hold, and the rest for the budget: see doc.go.
type OffsetFact struct {
	X     unit.Length `fact:"x"`
	Y     unit.Length `fact:"y"`
	Z     unit.Length `fact:"z"`
	Rot   unit.Angle  `fact:"rot"`
	CX    unit.Length `fact:"cx"`
	CY    unit.Length `fact:"cy"`
	VX    unit.Length `fact:"vx"`
	VY    unit.Length `fact:"vy"`
	Q     float64     `fact:"q"`
	Theta unit.Angle  `fact:"theta"`
	BX    unit.Length `fact:"bx"`
	BY    unit.Length `fact:"by"`
	Block unit.Length `fact:"block,bare"`
	Cov   fold.Cov
	Dof   float64
}

// Along is the offset along an axis: x, y or z.
func (o OffsetFact) Along(axis string) unit.Length {
	return map[string]unit.Length{"x": o.X, "y": o.Y, "z": o.Z}[axis]
}

// ProgramFact is the box of a program in work coordinates; none when it was not computed.
type ProgramFact struct {
	Box []float64 `fact:"box,rest"` // min x y z, max x y z; behind it the checksum, see WithSum
}

// SeatFact is the part's top against the pocket's floor.
type SeatFact struct {
	DZ     unit.Length `fact:"dz"`
	TiltX  unit.Angle  `fact:"tiltx"`
	TiltY  unit.Angle  `fact:"tilty"`
	GrownX float64     `fact:"gx,bare"` // of the part since side 1, by its width measured again, as a fraction
	GrownY float64     `fact:"gy,bare"`
	UX     float64     `fact:"ux,bare"` // standard uncertainty of it, 0: not measured
	UY     float64     `fact:"uy,bare"`
	C      float64     `fact:"c,bare"` // temperature of the part as it went in, degrees Celsius, by thermometer where ReadC is 1
	ReadC  float64     `fact:"readc,bare"`
	RH     float64     `fact:"rh,bare"`    // humidity of the air then, percent, 0: not read
	Hours  float64     `fact:"h,bare"`     // since side 1 was measured, 0: not known
	Turn   unit.Angle  `fact:"turn,bare"`  // of the part against its pocket, by two touches of one face
	TurnU  float64     `fact:"uturn,bare"` // standard uncertainty of it, rad; 0: not touched
}

// AirFact is the shop on the day when side 1 was measured: the part's temperature, degrees Celsius, by thermometer
// where Read is 1, and the humidity, percent, 0 where no hygrometer was read.
type AirFact struct {
	C    float64 `fact:"c"`
	Read float64 `fact:"read"`
	RH   float64 `fact:"rh"`
}

// GrippedFact is the stock in the vise: how high it is gripped, and how far it stands above the jaws.
type GrippedFact struct {
	Height unit.Length `fact:"height"`
	Above  unit.Length `fact:"above"`
}

// CountFact is a count of things.
type CountFact struct {
	N float64 `fact:"n,opt"`
}

// BaselineFact is part minus fixture at each witness: how many, the pooled scatter of a touch with
// its degrees of freedom, and the means in the order of the witnesses.
type BaselineFact struct {
	N       float64     `fact:"n"`
	S       unit.Length `fact:"s"`
	Freedom float64     `fact:"freedom"`
	D       []float64   `fact:"d,rest"`
}

// ThreadsFact is what the threads bear.
type ThreadsFact struct {
	N       float64     `fact:"n"`
	Cycles  float64     `fact:"cycles,opt"`
	Engaged unit.Length `fact:"engaged,opt"` // least thread found
	Strip   unit.Angle  `fact:"strip,opt"`   // turn from snug at which a sacrificial thread stripped, 0: none was
}

// ScrewsFact is the screws in their threads.
type ScrewsFact struct {
	N       float64     `fact:"n"`
	Head    unit.Length `fact:"head,opt"` // highest head over the part's face
	Engaged unit.Length `fact:"engaged,opt"`
	Set     unit.Force  `fact:"set,bare"` // preload that they were set to, where it is less than the working one
}

// ShiftFact is the motion of the part on the fixture since the baseline, about the part zero.
type ShiftFact struct {
	DX  unit.Length `fact:"dx"`
	DY  unit.Length `fact:"dy"`
	Rot unit.Angle  `fact:"rot"`
	// How far its lean takes sideways what lies the part's thickness over or under those faces, with the standard
	// uncertainties; 0 where it was not read.
	SideX unit.Length `fact:"sidex,bare"`
	SideY unit.Length `fact:"sidey,bare"`
	UX    unit.Length `fact:"ux,bare"`
	UY    unit.Length `fact:"uy,bare"`
	Cov   fold.Cov
	Dof   float64
}

// WitnessedFact is the register as four steps cut in the skin show it: where the part stands minus where the tool cuts,
// about the part zero, and by how much the outline comes out too large on each side.
type WitnessedFact struct {
	DX   unit.Length `fact:"dx"`
	DY   unit.Length `fact:"dy"`
	Rot  unit.Angle  `fact:"rot"`
	Size unit.Length `fact:"size,bare"`
	Cov  fold.Cov
	Dof  float64
}

// LocatedFact is how the part lies on its locator beyond the drawing: about the place that is held (kit.Held),
// side-2 coordinates.
type LocatedFact struct {
	DX  unit.Length `fact:"dx"`
	DY  unit.Length `fact:"dy"`
	Rot unit.Angle  `fact:"rot"`
	Cov fold.Cov
	Dof float64
}

// PinsFact is two pins of the fixture: diameters, and the distance between their middles.
type PinsFact struct {
	D1    unit.Length `fact:"d1"`
	D2    unit.Length `fact:"d2"`
	Apart unit.Length `fact:"apart"`
	Cov   fold.Cov
}

// NestFact is a nest cut into soft jaws: its width across them, and its depth.
type NestFact struct {
	Wide  unit.Length `fact:"wide"`
	Depth unit.Length `fact:"depth"`
}

// GripFact is a part where soft jaws grip it: its width, what the nest is wider, its thinnest wall.
type GripFact struct {
	Width unit.Length `fact:"width"`
	Gap   unit.Length `fact:"gap"`
	Wall  unit.Length `fact:"wall"`
	Cov   fold.Cov
}

// ReamedFact is two holes of the part: diameters, and the distance between their middles.
type ReamedFact struct {
	D1    unit.Length `fact:"d1"`
	D2    unit.Length `fact:"d2"`
	Apart unit.Length `fact:"apart"`
	Cov   fold.Cov
}

// BallFact is the probe's ball: effective radii, where it stands off the spindle's axis, pooled
// repeat of a hit and its degrees of freedom.
type BallFact struct {
	RX      unit.Length `fact:"rx"`
	RY      unit.Length `fact:"ry"`
	EX      unit.Length `fact:"ex"`
	EY      unit.Length `fact:"ey"`
	S       unit.Length `fact:"s,opt"`
	Freedom float64     `fact:"freedom,opt"`
}

// TramFact is the spindle's lean to the table.
type TramFact struct {
	X   unit.Angle `fact:"x"`
	Y   unit.Angle `fact:"y"`
	Cov fold.Cov
	Dof float64
}

// ColumnFact is the lean of the Z travel.
type ColumnFact struct {
	X unit.Angle `fact:"x"`
	Y unit.Angle `fact:"y"`
}

// SquarenessFact is the error of X per Y, with its sign.
type SquarenessFact struct {
	Eps unit.Angle `fact:"eps"`
	Cov fold.Cov
}

// StockFact is raw stock: length, width, thickness at five places, bow.
type StockFact struct {
	L   unit.Length `fact:"l"`
	W   unit.Length `fact:"w"`
	T1  unit.Length `fact:"t1"`
	T2  unit.Length `fact:"t2"`
	T3  unit.Length `fact:"t3"`
	T4  unit.Length `fact:"t4"`
	T5  unit.Length `fact:"t5"`
	Bow unit.Length `fact:"bow"`
}

// CornerFact is the program zero of a first side, the stock's lean, and its first contacts.
type CornerFact struct {
	X0       unit.Length `fact:"x0"`
	Y0       unit.Length `fact:"y0"`
	Skew     unit.Angle  `fact:"skew"`
	Interior unit.Angle  `fact:"interior"`
	XSide    float64     `fact:"xside"` // -1 left, +1 right, 0 the middle
	YSide    float64     `fact:"yside"` // -1 front, +1 rear, 0 the middle
	HX       unit.Length `fact:"hx"`
	HY       unit.Length `fact:"hy"`
	Cov      fold.Cov
	Dof      float64
}

// TopFact is the raw top of the stock, and Z0.
type TopFact struct {
	Z0     unit.Length `fact:"z0"`
	TiltX  unit.Angle  `fact:"tiltx"`
	TiltY  unit.Angle  `fact:"tilty"`
	Lowest unit.Length `fact:"lowest"`
	Z1     unit.Length `fact:"z1"`
	Block  unit.Length `fact:"block,opt"`
	Cov    fold.Cov
	Dof    float64
}

// DriftFact is the largest difference that a passed recheck of bore and floor found.
type DriftFact struct {
	D unit.Length `fact:"d"`
}

// ThicknessFact is the part's thickness as it came out of the vise, and its slope along X and Y of side 1.
type ThicknessFact struct {
	T     unit.Length `fact:"t"`
	Taper unit.Length `fact:"taper"`
	BX    unit.Angle  `fact:"bx,opt"`
	BY    unit.Angle  `fact:"by,opt"`
	Cov   fold.Cov
}

// WidthFact is an outer width, and what it is beyond the drawing.
type WidthFact struct {
	W   unit.Length `fact:"w"`
	Off unit.Length `fact:"off"`
	Cov fold.Cov
}

// WallFact is the wall that stays.
type WallFact struct {
	T   unit.Length `fact:"t"`
	Cov fold.Cov
}

// SeatFaceFact is the face that side 2 rests on, against the machine.
type SeatFaceFact struct {
	Zero  unit.Length `fact:"zero"`
	TiltX unit.Angle  `fact:"tiltx"`
	TiltY unit.Angle  `fact:"tilty"`
	Flat  unit.Length `fact:"flat,opt"`
	Cov   fold.Cov
}

// EdgesFact are the stock edges that side 1 was picked up from: -1 left or front, +1 right or rear, 0 the middle.
type EdgesFact struct {
	X   float64 `fact:"x"`
	Y   float64 `fact:"y"`
	Cov fold.Cov
}

// SpringFact is the movement of the wall when the vise was opened.
type SpringFact struct {
	D unit.Length `fact:"d"`
}

// HoursFact is when the part came out: hours of Unix time (Clock 1), or between the sides as given (Clock 0).
type HoursFact struct {
	H     float64 `fact:"h"`
	Clock float64 `fact:"clock"`
}

// BenchedFact is the finished part on the bench, deburred: its temperature, that of the shop, and the humidity, percent, 0 where
// no hygrometer was read.
type BenchedFact struct {
	C    float64 `fact:"c"`
	Shop float64 `fact:"shop"`
	RH   float64 `fact:"rh"`
}

// MismatchFact is where side 2 lies against side 1, about the part's middle: see calc/inspect. Told is how far turn and squareness
// are told apart.
type MismatchFact struct {
	DX     unit.Length `fact:"dx"`
	DY     unit.Length `fact:"dy"`
	Turn   unit.Angle  `fact:"turn"`
	Size   unit.Length `fact:"size"`
	Square unit.Angle  `fact:"square"`
	Told   float64     `fact:"told"`
	Cov    fold.Cov
	Dof    float64
}

// WallsFact is where the walls put side 2, and how much thicker than drawn they are.
type WallsFact struct {
	DX      unit.Length `fact:"dx"`
	DY      unit.Length `fact:"dy"`
	Thicker unit.Length `fact:"thicker"`
	Cov     fold.Cov
}

// FloorLeftFact is the floor beyond its thickness in the middle, and how it leans.
type FloorLeftFact struct {
	Thick unit.Length `fact:"thick"`
	LeanX unit.Angle  `fact:"leanx"`
	LeanY unit.Angle  `fact:"leany"`
	Cov   fold.Cov
}

// OutsideFact is the finished part's outer widths.
type OutsideFact struct {
	X unit.Length `fact:"x"`
	Y unit.Length `fact:"y"`
}

// CorrectionFact is what is taken out of the fixture's card: place about the part's middle, turn; 0 for what is left alone.
type CorrectionFact struct {
	X    unit.Length `fact:"x"`
	Y    unit.Length `fact:"y"`
	Turn unit.Angle  `fact:"turn"`
	Out  float64     `fact:"out"` // 1: the part is not counted, a mishap or a waiver stands in its record

	GrewX unit.Length `fact:"gx,bare"` // of what was found: the part's growth since side 1, not the fixture's
	GrewY unit.Length `fact:"gy,bare"`
}

// StoodFact is how fixture and cutter stood after the cut, the part still screwed down, against what the second side found.
type StoodFact struct {
	Asked float64     `fact:"asked,bare"` // 1: it was read
	Moved unit.Length `fact:"moved"`      // the locating bore
	Far   unit.Length `fact:"far"`        // its far end, across
	Tool  unit.Length `fact:"tool"`       // the cutter longer by
	High  unit.Length `fact:"high"`       // the finished top over the program, mean
}

// EdgedFact is where holes of side 2 lie against faces of side 1, on the mean.
type EdgedFact struct {
	DX  unit.Length `fact:"dx"`
	DY  unit.Length `fact:"dy"`
	Cov fold.Cov
}

// FinishFact is what a finish takes off a face, measured on the offcut.
type FinishFact struct {
	Takes   unit.Length `fact:"takes"`
	Scatter unit.Length `fact:"scatter"`
}

// WarmedFact is what the spindle still has to grow, down.
type WarmedFact struct {
	Left unit.Length `fact:"left"`
}
