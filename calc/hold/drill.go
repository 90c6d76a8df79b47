package hold

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// Holes are the hole sizes of one thread: clearance fine, medium, coarse and tap drill.
// Inch clearance holes come as close and free fit only, Coarse is 0 there.
type Holes struct {
	Thread               string
	Fine, Medium, Coarse unit.Length
	Tap                  unit.Length
	TapName              string
	Source               string
	Flag                 Flag // of the clearance holes
}

const iso273 = "ISO 273 series H12, H13, H14; tap drills of the ISO 261 coarse series"
const numberDrills = "number and letter drills ASME B94.11M; choice of drill is common practice"

var holes = []Holes{
	{"M1.6", 1.7, 1.8, 2.0, 1.25, "", iso273, Verified},
	{"M2", 2.2, 2.4, 2.6, 1.60, "", iso273, Verified},
	{"M2.5", 2.7, 2.9, 3.1, 2.05, "", iso273, Verified},
	{"M3", 3.2, 3.4, 3.6, 2.50, "", iso273, Verified},
	{"M4", 4.3, 4.5, 4.8, 3.30, "", iso273, Verified},
	{"M5", 5.3, 5.5, 5.8, 4.20, "", iso273, Verified},
	{"M6", 6.4, 6.6, 7.0, 5.00, "", iso273, Verified},
	{"M8", 8.4, 9.0, 10.0, 6.80, "", iso273, Verified},
	inchHoles("2-56", 0.0890, 0.0960, 0.0700, "number 50"),
	inchHoles("4-40", 0.1160, 0.1285, 0.0890, "number 43"),
	inchHoles("6-32", 0.1440, 0.1495, 0.1065, "number 36"),
	inchHoles("8-32", 0.1695, 0.1770, 0.1360, "number 29"),
	inchHoles("10-24", 0.1960, 0.2010, 0.1495, "number 25"),
	inchHoles("1/4-20", 0.2570, 0.2660, 0.2010, "number 7"),
}

func inchHoles(thread string, fine, medium, tap unit.Length, name string) Holes {
	return Holes{thread, fine * unit.Inch, medium * unit.Inch, 0, tap * unit.Inch, name, numberDrills, Practice}
}

// HolesOf are the hole sizes of a thread.
func HolesOf(t Thread) (Holes, error) {
	for _, h := range holes {
		if h.Thread == t.Name {
			return h, nil
		}
	}
	return Holes{}, fmt.Errorf("no hole sizes are listed for thread %q; give clearance and tap drill", t.Name)
}

// PointLength is the cone of a drill: d/2 / tan(angle/2). It panics unless the angle lies
// between 0 and a half turn.
func PointLength(d unit.Length, point unit.Angle) unit.Length {
	if !(point > 0) || !(float64(point) < math.Pi) {
		panic("hold: drill point angle must lie between 0 and 180 degrees")
	}
	return unit.Length(float64(d) / 2 / math.Tan(float64(point)/2))
}

// Lead is the number of threads a tap needs before it cuts to full depth. Common practice, from memory.
type Lead struct {
	Tap         string
	Least, Most float64 // threads
	Usual       float64
}

// Leads lists the kinds of hand taps. Ask for the tap in hand; the second one is the default.
var Leads = []Lead{{"taper", 7, 10, 8}, {"second", 3, 5, 4}, {"bottoming", 1.5, 2, 1.5}}

// Blind is a blind tapped hole in a base.
type Blind struct {
	Drill  unit.Length // tap drill
	Point  unit.Angle
	Pitch  unit.Length
	Thread unit.Length // full thread wanted
	Relief unit.Length // counterbore above it
	Lead   float64     // threads of the tap in hand; 0 takes the second tap's 4
	Chips  unit.Length // room for chips; 0 takes 0.5
	Base   unit.Length // thickness drilled into
	From   unit.Length // depth of the base's upper face below Z zero (the part over it)
	Least  unit.Length // floor that must be left; 0 takes 1.5
}

// BlindDepth is the drill plan of a blind hole. Full is where the full diameter ends, Tip
// where the point does: typing one for the other is an error nobody sees.
type BlindDepth struct {
	Point, Full, Tip unit.Length // cone; depths below the base's upper face
	TipZ             unit.Length // from Z zero, negative
	Left             unit.Length // floor under the tip
	Enough           bool
}

// Depth plans a blind hole: full = relief + thread + lead·pitch + chips.
func (b Blind) Depth() (BlindDepth, error) {
	if b.Lead == 0 {
		b.Lead = 4
	}
	if b.Chips == 0 {
		b.Chips = 0.5
	}
	if b.Least == 0 {
		b.Least = 1.5
	}
	if err := positive("drill diameter", float64(b.Drill), "drill point angle", float64(b.Point), "pitch", float64(b.Pitch), "thread depth",
		float64(b.Thread),
		"lead", b.Lead, "chip room", float64(b.Chips), "base thickness", float64(b.Base), "least floor", float64(b.Least)); err != nil {
		return BlindDepth{}, err
	}
	if err := notNegative("relief", float64(b.Relief), "part over the base", float64(b.From)); err != nil {
		return BlindDepth{}, err
	}
	if float64(b.Point) >= math.Pi {
		return BlindDepth{}, fmt.Errorf("drill point angle is %g degrees: it must lie below 180; read it off the drill's box",
			float64(b.Point)*180/math.Pi)
	}
	d := BlindDepth{Point: PointLength(b.Drill, b.Point)}
	d.Full = b.Relief + b.Thread + unit.Length(b.Lead)*b.Pitch + b.Chips
	d.Tip = d.Full + d.Point
	d.TipZ = -b.From - d.Tip
	d.Left = b.Base - d.Tip
	d.Enough = d.Left >= b.Least
	return d, nil
}

// Through is a clearance hole drilled through a seated part into the relief below it.
type Through struct {
	Drill       unit.Length
	Point       unit.Angle
	Below       unit.Length // by which the full diameter passes the seat; 0 takes 0.2
	Relief      unit.Length // depth of the counterbore under the seat
	ReliefDia   unit.Length
	Seat        unit.Length // Z of the seat plane
	ThreadMinor unit.Length // of the thread below the relief
}

// ThroughDepth is the drill plan of such a hole.
type ThroughDepth struct {
	Tip        unit.Length // below the seat
	TipZ       unit.Length
	Left       unit.Length // relief left under the tip; negative: the point enters the thread
	Enters     unit.Length // diameter of the point at the thread's mouth, 0 if it stays out
	SideRoom   unit.Length // between it and the thread's minor diameter, per side
	ShyOpening unit.Length // width of the opening if the tip, not the full diameter, stopped Below under the seat
	Enough     bool        // the tip stays in the relief and the relief is wide enough for the drill
}

// Depth plans the hole: the tip goes Below plus the point under the seat.
func (h Through) Depth() (ThroughDepth, error) {
	if h.Below == 0 {
		h.Below = 0.2
	}
	if err := positive("drill diameter", float64(h.Drill), "drill point angle", float64(h.Point), "depth past the seat", float64(h.Below),
		"relief depth", float64(h.Relief), "relief diameter", float64(h.ReliefDia)); err != nil {
		return ThroughDepth{}, err
	}
	if float64(h.Point) >= math.Pi {
		return ThroughDepth{}, fmt.Errorf("drill point angle is %g degrees: it must lie below 180; read it off the drill's box",
			float64(h.Point)*180/math.Pi)
	}
	tan := math.Tan(float64(h.Point) / 2)
	d := ThroughDepth{Tip: h.Below + PointLength(h.Drill, h.Point)}
	d.TipZ = h.Seat - d.Tip
	d.Left = h.Relief - d.Tip
	if d.Left < 0 {
		d.Enters = min(h.Drill, unit.Length(2*float64(-d.Left)*tan))
		d.SideRoom = (h.ThreadMinor - d.Enters) / 2
	}
	d.ShyOpening = min(h.Drill, unit.Length(2*float64(h.Below)*tan))
	d.Enough = d.Left >= 0 && h.ReliefDia > h.Drill
	return d, nil
}

// Pecks is the number of pecks to a depth, with a peck of a material's Peck diameters.
// The last peck may be shorter.
func Pecks(depth, d unit.Length, perDiameter float64) (int, error) {
	if err := positive("depth", float64(depth), "drill diameter", float64(d), "peck in diameters", perDiameter); err != nil {
		return 0, err
	}
	return int(math.Ceil(float64(depth)/(perDiameter*float64(d)) - 1e-9)), nil
}
