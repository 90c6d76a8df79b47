package steps_test

import (
	"math"
	"strings"
	"testing"

	"fliptrue/calc/budget"
	"fliptrue/calc/unit"
	"fliptrue/jobs"
	"fliptrue/steps/facts"
	"fliptrue/steps/fold"
	"fliptrue/steps/kit"
	"fliptrue/steps/side2"
)

// known gives facts by name.
func known(fs ...fold.Known) kit.Facts {
	return func(id fold.FactID) (fold.Known, bool) {
		for _, f := range fs {
			if f.ID == id {
				return f, true
			}
		}
		return fold.Known{}, false
	}
}

// halves are the lines of a feature on an axis by name, as half-widths or standard uncertainties times their coefficient.
func halves(fe kit.FeatureError, axis int) map[string]float64 {
	out := map[string]float64{}
	for _, l := range fe.Lines[axis] {
		out[l.Name] += math.Abs(l.Value * l.Coef)
	}
	return out
}

// An acrylic fixture made at 20.5 C stands at 28.5 C, in one room with the machine for 2 h: what it has grown by since lies within
// the stated interval, which was 1 K wide, and is no more when a thermometer is read.
func TestOneRoomSaysNothingOfTheDayItWasMade(t *testing.T) {
	p := lidPlan(t, nil)
	room := facts.Identity.Is(facts.IdentityFact{T: 20.5, U: 1 / math.Sqrt(3), Near: 1})
	read := facts.Identity.Is(facts.IdentityFact{T: 28.5, U: 1 / math.Sqrt(3), Measured: 1, Near: 1})
	for axis, reach := range []float64{44.98, 20.02 + 64} {
		true8 := (70e-6 - kit.MachineAlpha) * 8 * reach
		was := halves(kit.RegisterAs(p, known(kit.Nominal(p), room), false, 2)[0], axis)["heat"]
		now := halves(kit.RegisterAs(p, known(kit.Nominal(p), room), false, 3)[0], axis)["heat"]
		if was >= true8 || now < true8 || math.Abs(now-10*was) > 1e-9 {
			t.Errorf("axis %d: it grew by %.4f; the line was %.4f and is %.4f", axis, true8, was, now)
		}
		if by := halves(kit.RegisterAs(p, known(kit.Nominal(p), read), false, 3)[0], axis)["heat"]; math.Abs(by-was) > 1e-9 {
			t.Errorf("axis %d: with a thermometer the line is %.4f, want 1 K, %.4f", axis, by, was)
		}
	}
}

// The part's growth since side 1 has 10 K and the air of the shop, unless its widths were measured again: then
// what was found is a signed error at every feature, and two numbers are in doubt.
func TestPartGrowsSinceSide1(t *testing.T) {
	p := lidPlan(t, nil)
	far := func(fs ...fold.Known) kit.FeatureError {
		out := kit.RegisterOf(p, known(append(fs, kit.Nominal(p))...), true)
		return out[len(out)-1] // far corner, 96 64
	}
	ls := halves(far(), 0)
	if a := kit.Alpha(p, p.Job.Part.Material) - kit.MachineAlpha; math.Abs(ls["part heat"]-10*a*96) > 1e-9 {
		t.Errorf("part heat %.4f, want 10 K over 96, %.4f", ls["part heat"], 10*a*96)
	}
	if ls["moisture"] < 0.3 {
		t.Errorf("moisture %.4f over 96 of stabilised wood of which nothing is known", ls["moisture"])
	}
	again := far(facts.Seat.Is(facts.SeatFact{DZ: 16, GrownX: 3e-4, UX: 2.6e-5, GrownY: -1e-4, UY: 4e-5}))
	ls = halves(again, 0)
	if _, ok := ls["part heat"]; ok || ls["moisture"] != 0 || math.Abs(ls["width measured again"]-96*2.6e-5) > 1e-12 {
		t.Errorf("measured again: %v", ls)
	}
	bare := far(facts.Seat.Is(facts.SeatFact{DZ: 16, UX: 1e-9, UY: 1e-9}))
	near(t, "X of the far corner", again.Error[0]-bare.Error[0], 96*3e-4, 1e-12)
	near(t, "Y, held at the wall away", again.Error[1]-bare.Error[1], 0, 1e-12)

	// Moisture and hours as given change the interval.
	with := func(key string, v float64) float64 {
		q := lidPlan(t, func(j *jobs.Job) { j.Part.Given = map[string]jobs.Given{key: {Value: v, U: 0.2, Source: "meter"}} })
		f := fold.Known{ID: "part/hours", Value: []float64{1, 0}}
		get := known(kit.Nominal(q))
		if key == "hours" {
			get = known(kit.Nominal(q), f)
		}
		return halves(kit.RegisterOf(q, get, true)[1], 0)["moisture"]
	}
	all, hour, dry := with("thickness", 16), with("hours", 1), with("moisture", 4)
	if !(hour < 0.3*all) || !(dry > 1.5*all) {
		t.Errorf("moisture: nothing given %.4f, after 1 h %.4f, side 1 at 4 %% %.4f", all, hour, dry)
	}
}

// Squareness of a part against walls lies on one side, 0 to twice eps times the wall, and its sign on the card changes no half-width.
// A part turned by 0.3 mrad is seen by its two witnesses, and not by strips of 0.02.
func TestPartLeansAndTurnsAtItsWalls(t *testing.T) {
	for _, sign := range []float64{1, -1} {
		p := lidPlan(t, func(j *jobs.Job) { j.Machine.Squareness = unit.Slope(sign * 1e-4) })
		base := kit.NominalBaseline(p)
		base.Value[0] = float64(len(kit.Spots(p)))
		fs := kit.RegisterOf(p, known(kit.Nominal(p), base), true)
		for _, fe := range fs {
			e, half := fe.Error[0], halves(fe, 0)["squareness"]
			near(t, "low end", e-half, 0, 1e-9)
			most := 2e-4 * math.Max(fe.At.Y, 64-fe.At.Y)
			near(t, "high end", e+half, most, 1e-9)
		}
		for _, f := range kit.RegisterOf(p, known(kit.Nominal(p)), false) {
			for _, l := range f.Lines[0] {
				if l.Value < 0 || math.IsInf(l.Std(), 0) {
					t.Errorf("squareness %g: line %q is %g", sign*1e-4, l.Name, l.Value)
				}
			}
		}
	}
	p := lidPlan(t, func(j *jobs.Job) { j.Machine.Squareness = 0 })
	strips := kit.RegisterOf(p, known(kit.Nominal(p)), true)
	far := len(strips) - 1
	near(t, "Y that strips leave", -strips[far].Error[1]+halves(strips[far], 1)["squareness and turn at the walls"], 96*kit.Strip(p)/96, 1e-9)
	base := kit.NominalBaseline(p)
	turned := 3e-4
	for i, s := range kit.Spots(p) {
		if strings.HasPrefix(s.Field, "py") {
			base.Value[3+i] = turned * s.At.X
		}
	}
	seen := kit.RegisterOf(p, known(kit.Nominal(p), base), true)
	near(t, "Y of a part turned by 0.3 mrad against LEFT and AWAY", math.Abs(seen[far].Error[1]), turned*96, 1e-3*turned*96+turned*96)
	if got := halves(seen[far], 1)["turn at the walls"]; got <= 0 || got > 0.005 {
		t.Errorf("the turn as touched is within %.4f", got)
	}
}

// Two bores that give the direction better than a dial of 0.02 count for more than the edge does.
func TestTheBetterDirectionCounts(t *testing.T) {
	p := lidPlan(t, func(j *jobs.Job) { j.Setups[0].Bore2 = true })
	edge, bores := 30e-6, 5e-6
	bore := fold.Known{ID: "bore", Value: []float64{-200, -100, 8, 1, 20e-6}, Dof: 30,
		Cov: [][]float64{{1e-7, 0, 1e-12, 0}, {0, 1e-7, 0, 0}, {1e-12, 0, bores * bores, 0}, {0, 0, 0, bores * bores}}}
	at := func(skew float64, walk int) (float64, fold.Known) {
		f, _, ok := computeOffset(p, known(bore, floorFact(), fold.Known{ID: "skew", Value: []float64{skew, 0}, Cov: [][]float64{{edge * edge}}}), walk)
		if !ok {
			t.Fatal("no offset")
		}
		return f.Value[9], f
	}
	if got, _ := at(60e-6, 2); got != 60e-6 {
		t.Errorf("the second walk takes the edge: %g", got)
	}
	got, f := at(60e-6, 3)
	w := edge * edge / (edge*edge + bores*bores)
	near(t, "direction", got, 60e-6*(1-w)+20e-6*w, 1e-12)
	near(t, "u", math.Sqrt(f.Cov[2][2]), 1/math.Sqrt(1/(edge*edge)+1/(bores*bores)), 1e-12)
	near(t, "covariance with the bore", f.Cov[0][2], w*1e-12, 1e-18)
	if got, _ := at(600e-6, 3); got != 600e-6 { // they do not agree: neither overrules by its u, and the bore step has said so
		t.Errorf("disagreeing: %g", got)
	}
}

// Screws that vary by 0.052 in 300: 20 from where the fixture was made they leave little, anywhere else a lot; the card's own value counts.
func TestLeadOfTheScrews(t *testing.T) {
	lead := func(p *fold.Plan, near float64) budget.Line {
		fs := kit.RegisterOf(p, known(kit.Nominal(p), facts.Identity.Is(facts.IdentityFact{T: 20.5, U: 0.5, Measured: 1, Near: near})), true)
		for _, l := range fs[len(fs)-1].Lines[0] {
			if l.Name == "lead" {
				return l
			}
		}
		t.Fatal("no line")
		return budget.Line{}
	}
	p := lidPlan(t, nil)
	reach := 44.98 + 96
	near(t, "anywhere", lead(p, 0).Value, 0.052*reach/300, 1e-9)
	near(t, "where it was made", lead(p, 1).Value, 0.052*20/300, 1e-9)
	if !lead(p, 1).Assumed {
		t.Error("the preset is not said to be assumed")
	}
	q := lidPlan(t, func(j *jobs.Job) { j.Machine.Lead = 0.010 })
	if l := lead(q, 0); math.Abs(l.Value-0.010*reach/300) > 1e-9 || l.Assumed {
		t.Errorf("by the card %+v", l)
	}
}

// Three lobes go whole into the centre of a bore of four hits, and not at all into one of six.
func TestLobesOfFourHits(t *testing.T) {
	for hits, want := range map[int]float64{4: 0.001, 6: 0} {
		p := lidPlan(t, func(j *jobs.Job) { j.Setups[0].Hits = hits })
		near(t, "lobes", halves(kit.RegisterOf(p, known(kit.Nominal(p)), false)[0], 0)["probe's lobes"], want, 1e-12)
	}
}

var computeOffset = side2.ComputeOffset

// What was read of both days tells the part's growth: 45 % at 21 C when side 1 was measured and 65 % at 24 C now put 3.4 % of moisture
// into the wood (two-hydrate sorption equation, Wood Handbook). It was nothing ± 10 K ± 10 % before, whatever was given.
func TestBothDaysRead(t *testing.T) {
	p := lidPlan(t, nil)
	air := facts.Air.Is(facts.AirFact{C: 21, Read: 1, RH: 45})
	far := func(q *fold.Plan, fs ...fold.Known) kit.FeatureError {
		out := kit.RegisterOf(q, known(append(fs, kit.Nominal(q))...), true)
		return out[len(out)-1] // far corner, 96 64: X held at the wall at 0
	}
	same := far(p, air, facts.Seat.Is(facts.SeatFact{C: 21, ReadC: 1, RH: 45}))
	damp := far(p, air, facts.Seat.Is(facts.SeatFact{C: 24, ReadC: 1, RH: 65}))
	const across = (0.00038 + 0.00055) / 2 // walnut-stabilised, radial and tangential as shipped
	alpha := kit.Alpha(p, p.Job.Part.Material) - kit.MachineAlpha
	want := 96 * (across*(11.857974-8.465318) + 3*alpha)
	near(t, "grown along X", damp.Error[0]-same.Error[0], want, 1e-6)
	if ls := halves(damp, 0); ls["moisture"] != 0 || ls["moisture, material"] == 0 {
		t.Errorf("%v", ls)
	}
	if ls := halves(damp, 0); math.Abs(ls["part heat"]-alpha*96) > 1e-9 {
		t.Errorf("part heat %.4f, want 1 K of both thermometers, %.4f", ls["part heat"], alpha*96)
	}
	// Along the grain wood hardly moves.
	along := lidPlan(t, func(j *jobs.Job) { j.Part.Grain = "x" })
	if a, b := halves(far(along), 0)["moisture"], halves(far(p), 0)["moisture"]; !(a < 0.15*b) {
		t.Errorf("along the grain %.4f, across %.4f", a, b)
	}
	// Two hours between the sides, by the record: less than half of the way.
	short := far(p, air, facts.Seat.Is(facts.SeatFact{C: 24, ReadC: 1, RH: 65, Hours: 2}))
	near(t, "after 2 h", (short.Error[0]-same.Error[0]-96*3*alpha)/(want-96*3*alpha), 1-math.Exp(-2/(7*24*math.Pow(2.5/16, 2))), 1e-6)
	// A meter at side 1 is held against the air now.
	metered := lidPlan(t, func(j *jobs.Job) { j.Part.Given = map[string]jobs.Given{"moisture": {Value: 8.465318, U: 0.5}} })
	near(t, "by a meter", far(metered, air, facts.Seat.Is(facts.SeatFact{C: 24, ReadC: 1, RH: 65})).Error[0], damp.Error[0], 1e-6)
	along = lidPlan(t, func(j *jobs.Job) { j.Part.Grain, j.Part.Material = "x", "boxwood" })
	// Side 2 asks its hygrometer only after side 1's, and neither where the widths are measured again all the same: across the grain.
	asked := func(q *fold.Plan, step fold.StepID, fs []fold.Known, typed ...[2]string) string {
		sp, _ := q.Spec(step)
		out := " "
		for _, a := range sp.Asks(standing(q, step, append([]fold.Known{facts.Identity.Is(facts.IdentityFact{T: 21, U: 0.5, Measured: 1, Near: 1})}, fs...), typed...)) {
			out += a.Field + " "
		}
		return out
	}
	for _, c := range []struct {
		p        *fold.Plan
		fs       []fold.Known
		rh       string
		hygro, x bool
	}{
		{p, []fold.Known{air}, "", false, true}, {along, nil, "", false, true}, {along, []fold.Known{air}, "", true, true},
		{along, []fold.Known{air}, "46", true, false}, {along, []fold.Known{air}, "79", true, true},
	} {
		typed := [][2]string{{"temp", "21C"}}
		if c.rh != "" {
			typed = append(typed, [2]string{"rh", c.rh})
		}
		got := asked(c.p, "seat", c.fs, typed...)
		if strings.Contains(got, " rh ") != c.hygro || strings.Contains(got, " width-x ") != c.x || !strings.Contains(got, " width-y ") {
			t.Errorf("grain %q, %v, %s %%: %s", c.p.Job.Part.Grain, c.fs, c.rh, got)
		}
	}
}

// A fixture of acrylic on one bore: 10 % of humidity either way since the day it was made, 0.00004 a percent, from the fourth walk on. Both
// days read correct it by half of what lies between them. A record of before, a part that is not in, two bores and a metal have no such line.
func TestHumidityOfTheFixture(t *testing.T) {
	of := func(p *fold.Plan, walk int, all bool, fs ...fold.Known) (kit.FeatureError, map[string]float64) {
		f := kit.RegisterAs(p, known(append(fs, kit.Nominal(p))...), all, walk)[0]
		return f, halves(f, 1)
	}
	p := lidPlan(t, nil)
	const reach = 20.02 + 64 // from the bore to the wall AWAY
	dry, ls := of(p, 4, true)
	near(t, "unread", ls[kit.DampLine], 4e-5*10*reach, 1e-9)
	for name, walk := range map[string]int{"an earlier walk": 3, "before it is in": 4} {
		if _, ls := of(p, walk, walk == 3); ls[kit.DampLine] != 0 {
			t.Errorf("%s: %v", name, ls)
		}
	}
	read := lidPlan(t, func(j *jobs.Job) { j.Fixture.AsMade.Humidity = 45 })
	wet, ls := of(read, 4, true, facts.Seat.Is(facts.SeatFact{RH: 60}))
	same, _ := of(read, 4, true, facts.Seat.Is(facts.SeatFact{RH: 45}))
	near(t, "corrected", wet.Error[1]-same.Error[1], 4e-5*15*reach/2, 1e-9)
	near(t, "half of it", ls[kit.DampLine], 4e-5*15*reach/2, 1e-9)
	near(t, "hygrometers", ls[kit.DampLine+", hygrometers"], 4e-5*3*math.Sqrt2*reach, 1e-9)
	if dry.Error != same.Error {
		t.Errorf("the same humidity moves it: %v, %v", dry.Error, same.Error)
	}
	metal := lidPlan(t, func(j *jobs.Job) { j.Fixture.Material = "aluminium-6061-t6" })
	if _, ls := of(metal, 4, true); ls[kit.DampLine] != 0 || !(ls["lead of side 1"] > 0) {
		t.Errorf("metal: %v", ls)
	}
}
