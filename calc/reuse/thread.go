package reuse

import (
	"fmt"

	"fliptrue/calc/hold"
	"fliptrue/calc/unit"
)

// ProofFactor is what each thread is turned to, over its working torque, once after a remount. Common practice.
const ProofFactor = 1.3

// Times that a thread may be loaded, one for each part and one for each proof. Common practice.
const (
	AcrylicCycles = 10
	NutBarCycles  = 0 // no limit
)

// Proof is the torque that proves a thread, and the level pull that makes it.
type Proof struct {
	Torque unit.Torque
	Pull   unit.Force // level and square on the key
	Grams  float64    // on the string
}

// ToProof is ProofFactor times the working torque, on a key of an arm. See hold.LevelPull.
func ToProof(working unit.Torque, arm unit.Length) (Proof, error) {
	p := Proof{Torque: ProofFactor * working}
	var err error
	if p.Pull, err = hold.LevelPull(p.Torque, arm); err != nil {
		return Proof{}, err
	}
	p.Grams = hold.Grams(p.Pull)
	return p, nil
}

// Cycles is how often threads have been loaded and may be.
type Cycles struct {
	Parts, Proofs int // so far
	Life          int // 0: no limit
}

// Left is how many parts may still be screwed down after another proof; limited false: as many as wanted.
// Counts below 0 are an error.
func (c Cycles) Left(proofs int) (parts int, limited bool, err error) {
	if c.Parts < 0 || c.Proofs < 0 || c.Life < 0 || proofs < 0 {
		return 0, false, fmt.Errorf("%d parts, %d proofs, life %d and %d proofs to come must be 0 or more; correct the count",
			c.Parts, c.Proofs, c.Life, proofs)
	}
	if c.Life == 0 {
		return 0, false, nil
	}
	return max(0, c.Life-c.Parts-c.Proofs-proofs), true, nil
}
