// Package unit holds the physical quantities of the program as types, and the
// one reader and the one printer for them.
//
// Inside, a length is in millimetres, an angle in radians, a slope is a plain
// ratio, a force in newtons, a torque in newton millimetres, a stress in
// megapascals, a temperature in degrees Celsius, a duration in minutes. What a
// person types or reads may be in other units; only this package converts.
//
// Use Parse for what a person or a file gives, Echo to say what was understood,
// Format and Show for every dimension printed, Write for a value that goes back to
// a file, Slips to name what may have gone wrong with a reading.
//
// Non-goals: it corrects no entry, reads no expression, and knows no job, no machine and no screen.
package unit

// Length is in millimetres. The inch is exactly 25.4 mm by definition; 25.4 has
// no exact binary form, so a round trip through inches may differ in the last bit.
type Length float64

// Angle is in radians, counter-clockwise positive seen from above.
type Angle float64

// Slope is a ratio of two lengths (0.010 mm per 100 mm is 1e-4).
type Slope float64

// Force is in newtons.
type Force float64

// Torque is in newton millimetres.
type Torque float64

// Stress is in megapascals (N/mm²).
type Stress float64

// Temperature is in degrees Celsius; a difference of 1 is 1 K.
type Temperature float64

// Duration is in minutes.
type Duration float64

// Inch is one inch in millimetres, exact by definition (1959 agreement, ISO 31-1).
const Inch Length = 25.4

// PoundForce is one pound-force in newtons, exact: 0.45359237 kg (1959 agreement) at 9.80665 m/s² (3rd CGPM 1901).
const PoundForce Force = 4.4482216152605

// System is the unit system a job is written and read in.
type System int

const (
	Metric   System = iota // mm, N·m typed and mN·m printed, N, MPa, °C
	Imperial               // in, in-oz, lbf, psi; °F printed; a bare temperature is °C, a Fahrenheit one ends in F
)

// Kind says which quantity a number is, so that one reader and one printer can serve all.
type Kind int

const (
	Scalar       Kind = iota // a plain number
	Count                    // a whole number, not negative
	KLength                  // Length
	KAngle                   // Angle, typed in degrees unless it says mrad or rad
	KSlope                   // Slope, typed as 0.010/100 or a plain ratio
	KForce                   // Force
	KTorque                  // Torque
	KStress                  // Stress
	KTemperature             // Temperature
	KDuration                // Duration, typed in minutes unless it says s or h
	KWarmth                  // a difference of Temperature
	KVacuum                  // Stress under the atmosphere, as a vacuum gauge shows it
)
