package growth

import (
	"fmt"
	"math"

	"fliptrue/calc/budget"
)

// Air is what a hygrometer reads. Not read, it says nothing.
type Air struct {
	C, RH float64 // degrees Celsius, percent
	Read  bool
}

// EMC is the moisture content, percent of dry mass, that wood takes on in steady air: the
// two-hydrate sorption equation of the USDA Wood Handbook (FPL-GTR-190, chapter 4; the
// constants in degrees Fahrenheit). Good between 0 and 70 C and up to about 95 % of humidity.
func EMC(a Air) (float64, error) {
	if err := finite("temperature", a.C, "humidity", a.RH); err != nil {
		return 0, err
	}
	if a.C < -20 || a.C > 80 {
		return 0, fmt.Errorf("temperature %g C lies outside -20 to 80; read the thermometer again, in degrees Celsius", a.C)
	}
	if a.RH < 0 || a.RH > 99 {
		return 0, fmt.Errorf("humidity %g %% lies outside 0 to 99; read the hygrometer again", a.RH)
	}
	t, h := a.C*9/5+32, a.RH/100
	w := 330 + 0.452*t + 0.00415*t*t
	k := 0.791 + 0.000463*t - 0.000000844*t*t
	k1 := 6.34 + 0.000775*t - 0.0000935*t*t
	k2 := 1.09 + 0.0284*t - 0.0000904*t*t
	x := k * h
	return 1800 / w * (x/(1-x) + (k1*x+2*k1*k2*x*x)/(1+k1*x+k1*k2*x*x)), nil
}

// What is reckoned with where nobody read or knows better. E: an estimate, may be wrong by
// a factor of 2; replace it by the shop's own.
const (
	HygrometerHalf = 3.0  // of one reading, percent of humidity; common practice, from memory
	UnreadRH       = 10.0 // between two days of one shop, percent of humidity: E
	MaterialShare  = 0.5  // of the movement, for share and settling time together: E
	PlainShare     = 1.0  // of the movement of plain wood
	StabilisedPart = 0.2  // of it that is left in stabilised wood: E
	SettledHours   = 24.0 // from here on a hollowed part counts as settled: common practice
)

// Wood is how a piece moves along one axis of the part.
type Wood struct {
	PerPercent Coef    // growth for 1 % of moisture content
	Share      float64 // of it that is left: PlainShare, StabilisedPart; PlainShare where PerPercent is that of the piece itself
	Thick      float64 // thickest section that air reaches from both sides, mm
	Hollowed   bool    // settled from SettledHours on
}

// Settled is the share of its way to the new moisture content that a section has gone,
// 1 - exp(-hours/tau) with tau = 7 days (thick/16)², plain wood (E). Hours 0 is not known: 1.
func (w Wood) Settled(hours float64) float64 {
	if hours <= 0 || w.Hollowed && hours >= SettledHours {
		return 1
	}
	return 1 - math.Exp(-hours/Tau(w.Thick))
}

// Tau is the time constant of a section, hours: 7 days for 16 mm, by the square of the thickness (E).
func Tau(thick float64) float64 { return 7 * 24 * (thick / 16) * (thick / 16) }

// Moist is the growth of a part by moisture between two days, hours apart (0: not known):
//
//	value = perPercent * share * (EMC(now) - EMC(then)) * settled
//
// Its lines are the hygrometers' and the material's: half of the value, or the range of
// perPercent if that is more. With either day not read the value is 0 and one assumed line holds 10 % of
// humidity either way at 21 C and 45 %, at the high end of perPercent. Wood of which little is
// known is so proven by measuring it again (Width), not by a table.
func (w Wood) Moist(then, now Air, hours float64) (Growth, error) {
	if err := finite("hours between the sides", hours, "thickness", w.Thick, "share", w.Share); err != nil {
		return Growth{}, err
	}
	if err := w.PerPercent.valid("movement for 1 % of moisture"); err != nil {
		return Growth{}, err
	}
	if hours < 0 || w.Thick <= 0 || w.Share < 0 {
		return Growth{}, fmt.Errorf("wood %g thick, share %g, over %g h can't be computed; give hours of 0 or more, a thickness above 0 and a "+
			"share of 0 or more", w.Thick, w.Share, hours)
	}
	settled := w.Settled(hours)
	usual, most := w.Share*settled*w.PerPercent.Nominal, w.Share*settled*w.PerPercent.High
	if !then.Read || !now.Read {
		dry, _ := EMC(Air{C: 21, RH: 45})
		damp, _ := EMC(Air{C: 21, RH: 45 + UnreadRH})
		return Growth{Lines: []budget.Line{budget.R("moisture", most*(damp-dry)).From(
			"10 % of humidity between the sides: no hygrometer was read").AsAssumed()}}, nil
	}
	m0, err := EMC(then)
	if err != nil {
		return Growth{}, fmt.Errorf("at side 1: %w", err)
	}
	m1, err := EMC(now)
	if err != nil {
		return Growth{}, fmt.Errorf("now: %w", err)
	}
	slope := math.Max(perRH(then), perRH(now))
	g := Growth{Value: usual * (m1 - m0)}
	g.Lines = []budget.Line{
		budget.R("moisture, hygrometer at side 1", most*slope*HygrometerHalf).From("3 % of humidity, common practice"),
		budget.R("moisture, hygrometer now", most*slope*HygrometerHalf).From("3 % of humidity, common practice"),
		w.doubt(g.Value, usual, most, m1-m0),
	}
	return g, nil
}

// Metered is the growth where a meter said at side 1 how moist the part was, percent with its standard uncertainty:
//
//	value = perPercent * share * (EMC(now) - percent) * settled
//
// With the air now not read the value is 0 and one assumed line holds any air of 45 % either way by 10 % at 21 C.
func (w Wood) Metered(percent, u float64, now Air, hours float64) (Growth, error) {
	if err := finite("moisture at side 1", percent, "its uncertainty", u, "hours between the sides", hours, "share", w.Share); err != nil {
		return Growth{}, err
	}
	if err := w.PerPercent.valid("movement for 1 % of moisture"); err != nil {
		return Growth{}, err
	}
	if percent < 0 || percent > 100 || u < 0 || hours < 0 || w.Thick <= 0 || w.Share < 0 {
		return Growth{}, fmt.Errorf("moisture of %g %% ± %g over %g h can't be computed; give 0 to 100 %%, and 0 or more of the others", percent,
			u, hours)
	}
	settled := w.Settled(hours)
	usual, most := w.Share*settled*w.PerPercent.Nominal, w.Share*settled*w.PerPercent.High
	if !now.Read {
		dry, _ := EMC(Air{C: 21, RH: 45 - UnreadRH})
		damp, _ := EMC(Air{C: 21, RH: 45 + UnreadRH})
		wide := math.Max(math.Abs(percent-dry), math.Abs(damp-percent)) + 2*u
		return Growth{Lines: []budget.Line{budget.R("moisture", most*wide).From(
			"moisture of the part as given, in air of 35 to 55 %").AsAssumed()}}, nil
	}
	m, err := EMC(now)
	if err != nil {
		return Growth{}, fmt.Errorf("now: %w", err)
	}
	g := Growth{Value: usual * (m - percent)}
	g.Lines = []budget.Line{
		budget.N("moisture, meter at side 1", most*u, 0).From("moisture of the part as given"),
		budget.R("moisture, hygrometer now", most*perRH(now)*HygrometerHalf).From("3 % of humidity, common practice"),
		w.doubt(g.Value, usual, most, m-percent),
	}
	return g, nil
}

// doubt is what is not known of the wood itself: half of the value, or the range of its movement if that is more.
func (w Wood) doubt(value, usual, most, dM float64) budget.Line {
	return budget.R("moisture, material", math.Max(MaterialShare*math.Abs(value), (most-usual)*math.Abs(dM))).From(
		"movement, share and settling of the wood: an estimate").AsAssumed()
}

// perRH is the change of moisture content for 1 % of humidity about an air.
func perRH(a Air) float64 {
	lo, hi := a, a
	lo.RH, hi.RH = math.Max(0, a.RH-1), math.Min(99, a.RH+1)
	m0, err0 := EMC(lo)
	m1, err1 := EMC(hi)
	if err0 != nil || err1 != nil || hi.RH == lo.RH {
		return 0
	}
	return (m1 - m0) / (hi.RH - lo.RH)
}

// Damp is the growth of a plastic or laminate by humidity, perRH for 1 % of
// humidity. It takes weeks, so anything from none to all of it has happened.
func Damp(perRH Coef, then, now Air) (Growth, error) {
	if err := finite("humidity then", then.RH, "humidity now", now.RH); err != nil {
		return Growth{}, err
	}
	if err := perRH.valid("growth for 1 % of humidity"); err != nil {
		return Growth{}, err
	}
	if !then.Read || !now.Read {
		return Growth{Lines: []budget.Line{budget.R("humidity", perRH.High*UnreadRH).From(
			"10 % of humidity between the days: no hygrometer was read").AsAssumed()}}, nil
	}
	// Anything between nothing and all of it has happened: the middle, half of it either way.
	whole := perRH.High * (now.RH - then.RH)
	return Growth{Value: whole / 2, Lines: []budget.Line{
		budget.R("humidity", math.Abs(whole)/2).From("between none and all of it: it takes weeks"),
		budget.R("humidity, hygrometers", perRH.High*HygrometerHalf*math.Sqrt2).From("3 % of humidity each, common practice")}}, nil
}
