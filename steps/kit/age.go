package kit

import (
	"fmt"
	"strings"
	"time"

	"fliptrue/steps/fold"
)

// tramKeeps is how long a tram is relied on, and ballKeeps a calibration, without a word (common practice, from memory).
const (
	TramKeeps = 90 * 24 * time.Hour
	ballKeeps = 30 * 24 * time.Hour
)

// CardAge says how old the ball's calibration or the spindle's tram on the machine card
// was when the round's newest reading was taken: a line wherever a hit counts. An old one
// is said, never a block.
func CardAge(p *fold.Plan, v fold.View, f fold.FactID) []string {
	m := &p.Job.Machine
	var date, name string
	var keeps time.Duration
	switch {
	case f == "ball" && m.Probe != nil && ProbedBall(p):
		date, name, keeps = m.Probe.Date, "Ball calibrated", ballKeeps
	case f == "tram" && m.Tram != nil:
		date, name, keeps = m.Tram.Date, "Spindle trammed", TramKeeps
	default:
		return nil
	}
	if g, ok := v.Perhaps(f); ok && g.By != "" {
		return []string{name + " in this record."}
	}
	made, ok := cardDate(date)
	if !ok {
		return []string{name + ": the machine's card gives no date, so its age is not judged."}
	}
	h, ok := LastAt(v)
	if !ok {
		return nil
	}
	age := time.Duration(h*3600)*time.Second - time.Duration(made.Unix())*time.Second
	days := int(age.Hours() / 24)
	if days < 0 {
		return []string{fmt.Sprintf("%s on %s, after this reading: look at the clock or the card.", name, date)}
	}
	s := fmt.Sprintf("%s on %s, %s before.", name, date, fold.Plural(days, "day"))
	if age > keeps {
		s += " That is long ago: it is time for a new one."
	}
	return []string{s}
}

// ProbedBall says that the setup's readings rest on the ball.
func ProbedBall(p *fold.Plan) bool { return p.Setup.Finds == "" || p.Setup.Finds == "probe" }

// cardDate reads the date of a card: 2026-03-01, or a whole time.
func cardDate(s string) (time.Time, bool) {
	s = strings.TrimSpace(s)
	for _, form := range []string{"2006-01-02", time.RFC3339} {
		if t, err := time.Parse(form, s); err == nil {
			return t, true
		}
	}
	return time.Time{}, false
}
