package hold

import (
	"fmt"

	"fliptrue/calc/unit"
)

// Factors are the safety factors of a screw joint. They are defaults a shop may change.
type Factors struct {
	Strip     float64 // required against stripping, at the high preload
	StripLost float64 // the same on the screw that took over from a lost one
	High      float64 // highest preload of the working one: torque scatter
	Low       float64 // lowest: scatter 0.7 times creep 0.7
	LowTested float64 // lowest when the torque was set on a tested screw
	SlipAll   float64 // required against slip and yaw with all screws
	SlipLost  float64 // with any one lost
	PryAll    float64 // required against prying with all screws
	PryLost   float64 // with any one lost
}

// Usual are the factors used unless the shop says otherwise. Common practice, from memory.
var Usual = Factors{Strip: 3, StripLost: 2, High: 1.3, Low: 0.5, LowTested: 0.65, SlipAll: 1.5, SlipLost: 1.2, PryAll: 2, PryLost: 1.5}

// Insert is a threaded insert in place of a tapped thread. No published table of
// pull-out loads exists: the load is an input, with its source.
type Insert struct {
	PullOut unit.Force
	Source  string // "maker's sheet", "three pulled out of scrap, least"
}

// Valid returns an error unless there is a load and a source.
func (i Insert) Valid() error {
	if err := positive("insert pull-out load", float64(i.PullOut)); err != nil {
		return err
	}
	if i.Source == "" {
		return fmt.Errorf("insert pull-out load %g N has no source; pull one out of scrap or quote the maker's sheet, and say which",
			float64(i.PullOut))
	}
	return nil
}

// Joint is one screw that presses the part on the fixture.
type Joint struct {
	Thread  Thread
	Engaged unit.Length // full thread engaged
	Shear   unit.Stress // of the material the thread is in; unused with an insert
	Insert  *Insert
	Bearing float64     // area under the washer or head, mm²
	Crush   unit.Stress // pressure the part bears
	Class   Class
	K       float64 // torque coefficient
	Tested  bool    // the torque is set on a tested screw
	Factors Factors
}

// Preload is the tension of one screw with what limits it.
type Preload struct {
	F, Low, High        unit.Force // working, least and largest preload to reckon with
	Strip, Crush, Proof unit.Force // loads at which the joint gives way (Proof: what the screw may carry)
	Governs             string     // strip, crush or proof: the weakest
	SFStrip             float64    // Strip / High
	Torque, StripTorque unit.Torque
}

// Valid returns an error for a joint that can't be computed.
func (j Joint) Valid() error {
	if j.Thread.Name == "" {
		return fmt.Errorf("joint has no thread; name one, for example %q", "M2")
	}
	if err := positive("engaged thread", float64(j.Engaged), "bearing area", j.Bearing, "crushing pressure of the part", float64(j.Crush),
		"screw strength", float64(j.Class.Stress), "share of the screw strength", j.Class.Use, "torque coefficient", j.K); err != nil {
		return err
	}
	if err := j.Factors.valid(); err != nil {
		return err
	}
	if j.Insert != nil {
		return j.Insert.Valid()
	}
	return positive("shear strength of the thread's material", float64(j.Shear))
}

func (f Factors) valid() error {
	return positive("strip factor", f.Strip, "strip factor with a screw lost", f.StripLost, "high preload factor", f.High,
		"low preload factor", f.Low, "low preload factor of a tested screw", f.LowTested, "slip factor", f.SlipAll,
		"slip factor with a screw lost", f.SlipLost, "prying factor", f.PryAll, "prying factor with a screw lost", f.PryLost)
}

// Working returns the largest preload at which the weakest of thread, part and screw
// still has its factor: min(Strip/(3·1.3), Crush/1.3, Proof/1.3) with the usual factors.
// On a tie the first of strip, crush, proof is named.
func (j Joint) Working() (Preload, error) {
	if err := j.Valid(); err != nil {
		return Preload{}, err
	}
	strip, crush, proof := j.limits()
	f, name := strip/(j.Factors.Strip*j.Factors.High), "strip"
	if c := crush / j.Factors.High; c < f {
		f, name = c, "crush"
	}
	if p := proof / j.Factors.High; p < f {
		f, name = p, "proof"
	}
	p := j.at(f)
	p.Governs = name
	return p, nil
}

// At returns the joint at a stated preload, for instance one that was set by the torque
// of a weaker case. Governs names what would limit it.
func (j Joint) At(f unit.Force) (Preload, error) {
	w, err := j.Working()
	if err != nil {
		return Preload{}, err
	}
	if err := positive("preload", float64(f)); err != nil {
		return Preload{}, err
	}
	p := j.at(float64(f))
	p.Governs = w.Governs
	return p, nil
}

func (j Joint) limits() (strip, crush, proof float64) {
	strip = j.Thread.NutShear() * float64(j.Engaged) * float64(j.Shear)
	if j.Insert != nil {
		strip = float64(j.Insert.PullOut)
	}
	return strip, float64(j.Crush) * j.Bearing, float64(j.Class.Load(j.Thread))
}

func (j Joint) at(f float64) Preload {
	strip, crush, proof := j.limits()
	low := j.Factors.Low
	if j.Tested {
		low = j.Factors.LowTested
	}
	high := j.Factors.High * f
	return Preload{
		F: unit.Force(f), Low: unit.Force(low * f), High: unit.Force(high),
		Strip: unit.Force(strip), Crush: unit.Force(crush), Proof: unit.Force(proof), SFStrip: strip / high,
		Torque:      TorqueFor(unit.Force(f), j.K, j.Thread.D),
		StripTorque: TorqueFor(unit.Force(strip), j.K, j.Thread.D),
	}
}

// ShearFromTest is the shear strength shown by a sacrificial thread that stripped at the
// given torque: T/(K d) over the sheared area. Used with the same K again the error of K
// cancels in the torque. It replaces an estimated range.
func ShearFromTest(t Thread, engaged unit.Length, stripped unit.Torque, k float64) (Range, error) {
	if err := positive("thread diameter", float64(t.D), "engaged thread", float64(engaged), "torque that stripped the test thread",
		float64(stripped), "torque coefficient", k); err != nil {
		return Range{}, err
	}
	f := float64(ForceFrom(stripped, k, t.D))
	return Exactly(f/(t.NutShear()*float64(engaged)), fmt.Sprintf("sacrificial thread of %s (%s) stripped at %s (%s)",
		unit.Show(float64(engaged), unit.KLength, unit.Metric, 0.01), unit.Show(float64(engaged), unit.KLength, unit.Imperial, 0),
		unit.Show(float64(stripped), unit.KTorque, unit.Metric, 0), unit.Show(float64(stripped), unit.KTorque, unit.Imperial, 0))), nil
}
