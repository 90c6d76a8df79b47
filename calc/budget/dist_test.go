package budget

import (
	"math"
	"testing"
)

// NIST TN 1297 (1994), Table B.1, the same values as JCGM 100:2008, Table G.2 (verified copy): two-sided t
// for 95, 95.45 and 99 %, printed to two decimals (three at 100 and ∞).
func TestStudentTable(t *testing.T) {
	table := []struct{ dof, p95, p9545, p99 float64 }{
		{1, 12.71, 13.97, 63.66}, {2, 4.30, 4.53, 9.92}, {3, 3.18, 3.31, 5.84}, {4, 2.78, 2.87, 4.60},
		{5, 2.57, 2.65, 4.03}, {6, 2.45, 2.52, 3.71}, {7, 2.36, 2.43, 3.50}, {8, 2.31, 2.37, 3.36},
		{9, 2.26, 2.32, 3.25}, {10, 2.23, 2.28, 3.17}, {12, 2.18, 2.23, 3.05}, {15, 2.13, 2.18, 2.95},
		{16, 2.12, 2.17, 2.92}, {20, 2.09, 2.13, 2.85}, {25, 2.06, 2.11, 2.79}, {30, 2.04, 2.09, 2.75},
		{50, 2.01, 2.05, 2.68}, {100, 1.984, 2.025, 2.626}, {inf, 1.960, 2.000, 2.576},
	}
	for _, r := range table {
		tol := 0.005 + 1e-9
		if r.dof >= 100 {
			tol = 0.0005 + 1e-9
		}
		near(t, "95 %", TQuantile(0.975, r.dof), r.p95, tol)
		near(t, "95.45 %", TQuantile(1-0.0455/2, r.dof), r.p9545, tol)
		near(t, "99 %", TQuantile(0.995, r.dof), r.p99, tol)
		// the solver behind Combine finds the same
		near(t, "own 95 %", sum{un: 1, nu: r.dof}.quantile(0.975), TQuantile(0.975, r.dof), 1e-8)
		near(t, "own one-sided 95 %", sum{un: 1, nu: r.dof}.quantile(0.95), TQuantile(0.95, r.dof), 1e-8)
	}
	// four decimals, computed here
	for _, c := range [][2]float64{{1, 12.7062}, {4, 2.7764}, {6, 2.4469}, {10, 2.2281}, {30, 2.0423}, {100, 1.9840}} {
		near(t, "four decimals", TQuantile(0.975, c[0]), c[1], 5.1e-5)
	}
}

// Computed here: seven witness points at 5 % together.
func TestCriticalT(t *testing.T) {
	near(t, "14 dof", CriticalT(0.05, 7, 14), 3.1463795037, 1e-6)
	near(t, "28 dof", CriticalT(0.05, 7, 28), 2.9022928360, 1e-6)
	near(t, "one point", CriticalT(0.05, 1, 4), 2.7764451052, 1e-6)
}

// Chi-square with 2 dof has the closed quantile -2 ln(1-p) (9.210 at 99 %; 11.345 with 3 dof from tables in
// general use, from memory). F with one dof above is t squared, and the chi-square per dof when the variance below is known.
func TestChi2AndF(t *testing.T) {
	near(t, "chi2 2", Chi2Quantile(0.99, 2), -2*math.Log(0.01), 1e-9)
	near(t, "chi2 3", Chi2Quantile(0.99, 3), 11.345, 5e-4)
	near(t, "F 1,10", FQuantile(0.95, 1, 10), math.Pow(TQuantile(0.975, 10), 2), 1e-8)
	near(t, "F 3,inf", FQuantile(0.99, 3, inf), 11.345/3, 2e-4)
	near(t, "F 5,10 at 5 %", FQuantile(0.95, 5, 10), 3.33, 0.005) // tables in general use, from memory
	near(t, "F 3,30 at 1 %", FQuantile(0.99, 3, 30), 4.51, 0.005) // the same
}

// Plus and minus twice u covers less than 95 % when the hits bring their own s only. Computed here.
func TestTwoUCoverage(t *testing.T) {
	for _, c := range []struct{ hits, cover float64 }{{4, 0.7048327647}, {5, 0.8164965809}, {6, 0.8606740314}, {8, 0.8980605212}} {
		f, _ := newStudent(c.hits - 3).at(2)
		near(t, "coverage of 2u", 2*f-1, c.cover, 1e-9)
	}
}
