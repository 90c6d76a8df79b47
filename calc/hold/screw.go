package hold

import (
	"fmt"
	"math"

	"fliptrue/calc/unit"
)

// Head is a socket head cap screw's head, with the flat washer of its size. Inch heads
// have no washer here: give its size.
type Head struct {
	Thread                string
	DMax, Knurled, DMin   unit.Length // head diameter: plain largest, knurled largest (the one to clear), least
	KMax, KMin            unit.Length // head height
	Key, Socket, Bearing  unit.Length // key size, least socket depth, least diameter of the bearing face (0: not listed)
	WasherD, WasherHeight unit.Length // flat washer, 0: not listed
	Source                string
	Flag                  Flag // of the head; washers and inch heads are from memory
}

const iso4762 = "ISO 4762; washers ISO 7089 from memory"
const b183 = "ASME B18.3, from memory"

var heads = []Head{
	{"M1.6", 3.00, 3.14, 2.86, 1.60, 1.46, 1.5, 0.7, 2.72, 4, 0.3, iso4762, Verified},
	{"M2", 3.80, 3.98, 3.62, 2.00, 1.86, 1.5, 1.0, 3.48, 5, 0.3, iso4762, Verified},
	{"M2.5", 4.50, 4.68, 4.32, 2.50, 2.36, 2, 1.1, 4.18, 6, 0.5, iso4762, Verified},
	{"M3", 5.50, 5.68, 5.32, 3.00, 2.86, 2.5, 1.3, 5.07, 7, 0.5, iso4762, Verified},
	{"M4", 7.00, 7.22, 6.78, 4.00, 3.82, 3, 2.0, 6.53, 9, 0.8, iso4762, Verified},
	{"M5", 8.50, 8.72, 8.28, 5.00, 4.82, 4, 2.5, 8.03, 10, 1.0, iso4762, Verified},
	{"M6", 10.00, 10.22, 9.78, 6.00, 5.70, 5, 3.0, 9.38, 12, 1.6, iso4762, Verified},
	{"M8", 13.00, 13.27, 12.73, 8.00, 7.64, 6, 4.0, 12.33, 16, 1.6, iso4762, Verified},
	inchHead("2-56", 0.140, 0.134, 0.086, 5.0/64), inchHead("4-40", 0.183, 0.176, 0.112, 3.0/32),
	inchHead("6-32", 0.226, 0.218, 0.138, 7.0/64), inchHead("8-32", 0.270, 0.262, 0.164, 9.0/64),
	inchHead("10-24", 0.312, 0.303, 0.190, 5.0/32), inchHead("1/4-20", 0.375, 0.365, 0.250, 3.0/16),
}

func inchHead(thread string, d, least, k, key unit.Length) Head {
	return Head{Thread: thread, DMax: d * unit.Inch, Knurled: d * unit.Inch, DMin: least * unit.Inch, KMax: k * unit.Inch,
		Key:    key * unit.Inch,
		Source: b183, Flag: Memory}
}

// HeadOf is the cap screw head of a thread.
func HeadOf(t Thread) (Head, error) {
	for _, h := range heads {
		if h.Thread == t.Name {
			return h, nil
		}
	}
	return Head{}, fmt.Errorf("no cap screw head is listed for thread %q; give the head's diameter and height", t.Name)
}

// BearingArea is the ring in mm² on which a head or washer of diameter d presses round a
// hole; nothing left of it is an error. For a bare head use Head.Bearing, the least diameter of its face:
// the full head diameter promises more than the head may have.
func BearingArea(d, hole unit.Length) (float64, error) {
	if err := positive("head or washer diameter", float64(d)); err != nil {
		return 0, err
	}
	if err := notNegative("hole", float64(hole)); err != nil {
		return 0, err
	}
	if hole >= d {
		return 0, fmt.Errorf("head or washer %g does not cover the hole %g; use a larger washer", float64(d), float64(hole))
	}
	return math.Pi / 4 * float64(d*d-hole*hole), nil
}

// Stack is a screw through a part into a blind thread. All lengths along the screw.
type Stack struct {
	Thread  Thread
	Length  unit.Length // below the head
	Washer  unit.Length // thickness, 0 without
	Through unit.Length // part under washer or head
	Relief  unit.Length // counterbore in the fixture above the thread
	Depth   unit.Length // full thread below the relief
	Hole    unit.Length // drilled to full diameter, below the seat; 0: not known
}

// BottomRoom is how much deeper than the screw the hole must be drilled. Common practice.
const BottomRoom unit.Length = 1.0

// Engagement is what is left of the screw for the thread.
type Engagement struct {
	Below     unit.Length // of the screw below the seat
	Engaged   unit.Length // full thread engaged
	Diameters float64     // the same in thread diameters
	Spare     unit.Length // thread left below the screw's end
	Left      unit.Length // hole left below it, if the hole is known
}

// Engage returns the engagement: length less washer, part and relief. It is an error when
// nothing engages, or when the screw would bottom: it then feels tight and holds nothing.
func (s Stack) Engage() (Engagement, error) {
	if err := positive("screw length", float64(s.Length), "part under the head", float64(s.Through), "thread depth",
		float64(s.Depth)); err != nil {
		return Engagement{}, err
	}
	if err := notNegative("washer", float64(s.Washer), "relief", float64(s.Relief), "hole", float64(s.Hole)); err != nil {
		return Engagement{}, err
	}
	below := s.Length - s.Washer - s.Through
	le := below - s.Relief
	e := Engagement{Below: below, Engaged: le, Spare: s.Depth - le, Left: s.Hole - below}
	if s.Thread.D > 0 {
		e.Diameters = float64(le / s.Thread.D)
	}
	const fuzz = 1e-9
	switch {
	case le <= fuzz:
		return Engagement{}, fmt.Errorf("screw of %g engages no thread: washer %g, part %g and relief %g take %g of it; use a longer screw",
			float64(s.Length),
			float64(s.Washer), float64(s.Through), float64(s.Relief), float64(s.Washer+s.Through+s.Relief))
	case le > s.Depth+fuzz:
		return Engagement{}, fmt.Errorf("screw of %g needs %g of thread and there are %g: it bottoms, feels tight and holds nothing; use a "+
			"screw of at most %g", float64(s.Length),
			round3(le), float64(s.Depth), round3(s.Longest()))
	case s.Hole > 0 && e.Left < BottomRoom-fuzz:
		return Engagement{}, fmt.Errorf("screw reaches %g below the seat and the hole %g: %g is left, %g is needed; drill deeper or use a screw "+
			"of at most %g", round3(below),
			float64(s.Hole), round3(e.Left), float64(BottomRoom), round3(s.Longest()))
	}
	return e, nil
}

// Longest is the longest screw that does not bottom.
func (s Stack) Longest() unit.Length {
	l := s.Washer + s.Through + s.Relief + s.Depth
	if s.Hole > 0 {
		l = min(l, s.Washer+s.Through+s.Hole-BottomRoom)
	}
	return l
}

func round3(l unit.Length) float64 { return math.Round(float64(l)*1000) / 1000 }

// HeadCut is the margin between the top of a screw head and the cutter that passes over it.
type HeadCut struct {
	Seat         unit.Length // Z of the face under head or washer
	Head, Washer unit.Length // heights
	Lowest       unit.Length // lowest Z of a cut over the head
	ToolLength   unit.Length // uncertainty; 0 takes 0.05
	Creep        unit.Length // of the seat under the screw; 0 takes 0.1
}

// HeadRoom is the least margin over a head. Common practice, from memory.
const HeadRoom unit.Length = 0.5

// Margin returns the top of the head and what is left above it after tool length and
// creep. At least HeadRoom is wanted. Use the largest head height.
func (h HeadCut) Margin() (top, margin unit.Length, err error) {
	if err := positive("head height", float64(h.Head)); err != nil {
		return 0, 0, err
	}
	if err := notNegative("washer", float64(h.Washer), "tool length uncertainty", float64(h.ToolLength), "creep",
		float64(h.Creep)); err != nil {
		return 0, 0, err
	}
	if h.ToolLength == 0 {
		h.ToolLength = 0.05
	}
	if h.Creep == 0 {
		h.Creep = 0.1
	}
	top = h.Seat + h.Head + h.Washer
	return top, h.Lowest - top - (h.ToolLength + h.Creep), nil
}
