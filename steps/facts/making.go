package facts

import (
	"fliptrue/calc/unit"
	"fliptrue/steps/fold"
)

// The facts of a fixture in the making, and of one that comes back. Places from bore 1 unless it says otherwise.
var (
	Blank    = fold.NewFact[BlankFact]("making/blank")
	Rested   = fold.NewFact[RestedFact]("making/rested")
	Chain    = fold.NewFact[ChainFact]("chain")
	Burrless = fold.NewFact[Done]("chain/clean")
	Cut      = fold.NewFact[CutFact]("bore/cut")
	Pads     = fold.NewFact[PadsFact]("bore/pads")
	Heights  = fold.NewFact[HeightsFact]("floor/made")
	EdgeMade = fold.NewFact[EdgeMadeFact]("skew/made", "zero")
	Sprung   = fold.NewFact[SpringFact]("floor/spring")
	Placed   = fold.NewFact[PlacedFact]("bore/place", "vx,vy")
	Proved   = fold.NewFact[ProvedFact]("making/threads")
	Made     = fold.NewFact[Done]("making/done")

	Back     = fold.NewFact[BackFact]("reuse/back")
	LookedAt = fold.NewFact[LookedFact]("reuse/look")
	Scale    = fold.NewFact[ScaleFact]("bore/scale")
	WornBore = fold.NewFact[WearFact]("bore/wear")
	WornLine = fold.NewFact[WearFact]("skew/wear")
	FloorNow = fold.NewFact[FloorNowFact]("floor/now")
	Reproved = fold.NewFact[ReprovedFact]("reuse/proof")
	DryFit   = fold.NewFact[Done]("reuse/fit")
	Kept     = fold.NewFact[KeptFact]("reuse/done")
)

// BlankFact is the blank bolted down: mean thickness, its range, temperature (°C) and humidity (percent) of the day.
type BlankFact struct {
	T     unit.Length `fact:"t"`
	Range unit.Length `fact:"range"`
	C     float64     `fact:"c"`
	RH    float64     `fact:"rh"`
}

// RestedFact is the plate at rest after roughing: its temperature, °C.
type RestedFact struct {
	C float64 `fact:"c"`
}

// ChainFact is that pads, bores and edge were finished by one tool in one clamping and are untouched since: machine coordinates of
// bore 1 as programmed.
type ChainFact struct {
	X unit.Length `fact:"x"`
	Y unit.Length `fact:"y"`
}

// CutFact is what both bores say: bore 1 as probed (machine coordinates, nothing corrected), eccentricity of the probe then, how
// much the finisher cut small, and the way from bore 1 to bore 2.
type CutFact struct {
	X      unit.Length `fact:"x"`
	Y      unit.Length `fact:"y"`
	EX     unit.Length `fact:"ex"`
	EY     unit.Length `fact:"ey"`
	Small  unit.Length `fact:"small"`
	USmall float64     `fact:"usmall"`
	Dia    unit.Length `fact:"dia"`
	UDia   float64     `fact:"udia"`
	SX     unit.Length `fact:"sx"`
	SY     unit.Length `fact:"sy"`
	USpan  float64     `fact:"uspan"`
}

// PadsFact is how far each pad was probed off what the bore predicts, along its axis, in the order of the job.
type PadsFact struct {
	Off []float64 `fact:"off,rest"`
}

// HeightsFact is rim over floor, how far the floor is from a plane, and the heights touched, machine Z at the trigger: floor, then rim.
type HeightsFact struct {
	Rim  unit.Length `fact:"rim"`
	Form unit.Length `fact:"form"`
	Z    []float64   `fact:"z,rest"`
}

// EdgeMadeFact is the direction of the edge in place, against the machine's axis, CCW +.
type EdgeMadeFact struct {
	Zero unit.Angle `fact:"zero"`
	Cov  fold.Cov
}

// PlacedFact is the part zero of a part pushed against the pads.
type PlacedFact struct {
	VX  unit.Length `fact:"vx"`
	VY  unit.Length `fact:"vy"`
	Cov fold.Cov
}

// ProvedFact is the torque that stripped a sacrificial thread, N mm, and the turn from snug where it was counted.
type ProvedFact struct {
	Torque float64    `fact:"torque"`
	Strip  unit.Angle `fact:"strip"`
}

// BackFact is the fixture out of its box: temperature (°C), by a thermometer where Read is 1, humidity (percent, 0 not read).
type BackFact struct {
	C    float64 `fact:"c"`
	Read float64 `fact:"read"`
	RH   float64 `fact:"rh"`
}

// LookedFact is how many bosses are cracked through.
type LookedFact struct {
	Crazed float64 `fact:"crazed"`
}

// ScaleFact is the distance of both bores over as made, less 1: all of it, what heat explains, and the rest with the guard of it.
type ScaleFact struct {
	Grown float64 `fact:"grown"`
	Heat  float64 `fact:"heat"`
	Rest  float64 `fact:"rest"`
	Guard float64 `fact:"guard"`
	Moist float64 `fact:"moist"` // 1: the humidity of both days explains the rest

	Theta  unit.Angle `fact:"theta"` // direction of the line of both bores against as made, CCW +
	UTheta float64    `fact:"utheta"`
}

// WearFact is a rest against as made: mm of a bore, rad of a direction.
type WearFact struct {
	Rest float64 `fact:"rest"`
	U    float64 `fact:"u"`
}

// FloorNowFact is the floor and the rim against as made.
type FloorNowFact struct {
	Form unit.Length `fact:"form"`
	Rim  unit.Length `fact:"rim"`
}

// ReprovedFact is how many threads were turned to the proof torque, and how many of them turned soft.
type ReprovedFact struct {
	N    float64 `fact:"n"`
	Soft float64 `fact:"soft"`
}

// KeptFact is what becomes of the fixture: 0 used, 1 at rest, 2 cut anew; Out 1: not counted in its trend.
type KeptFact struct {
	Fate float64 `fact:"fate"`
	Out  float64 `fact:"out"`
}
