package fit

// OppositeFaces is what an edge finder of unknown radius says between two faces.
type OppositeFaces struct {
	Center float64 // mean of the two kicks: the radius cancels
	Radius float64 // (span - width)/2 outside, (width - span)/2 inside: checks the finder
}

// ToOppositeFaces finds the middle between two opposite faces of known width, mm.
// outside is a part between the kicks, inside a pocket around them. A radius away from
// the finder's own means a wrong kick or a wrong width. For one face see Surface.
func ToOppositeFaces(a, b, width float64, inside bool) OppositeFaces {
	span := b - a
	if span < 0 {
		span = -span
	}
	f := OppositeFaces{Center: (a + b) / 2, Radius: (span - width) / 2}
	if inside {
		f.Radius = -f.Radius
	}
	return f
}
