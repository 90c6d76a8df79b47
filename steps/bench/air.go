package bench

// When a shop reads its air, side 1 was measured at this humidity, percent.
const side1Humidity = 45

// dampness is how much damper the air is than on the day of side 1, percent of humidity.
func (w *World) dampness() float64 { return w.day.within("damp", w.Effects.Damp) }

// hygrometer is what it shows: to a percent, within 2.
func (w *World) hygrometer() float64 {
	v := side1Humidity + w.lot.within("hygrometer", 2)
	if w.raw == nil {
		v += w.dampness()
	}
	return roundTo(v, 1)
}
