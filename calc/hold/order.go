package hold

import (
	"math"
	"sort"

	"fliptrue/calc/unit"
)

// TightenOrder is the order in which to tighten screws (indices): from the middle
// outward, each followed by the one opposite it. Four in a rectangle go 1-3-2-4; six in
// two rows begin with the middle pair. Then once round again: the early ones have relaxed.
func TightenOrder(screws [][2]float64) []int {
	n := len(screws)
	if n == 0 {
		return nil
	}
	var cx, cy float64
	for _, p := range screws {
		cx, cy = cx+p[0]/float64(n), cy+p[1]/float64(n)
	}
	r := make([]float64, n)
	left := make([]int, n)
	for i, p := range screws {
		left[i] = i
		r[i] = math.Hypot(p[0]-cx, p[1]-cy)
	}
	sort.SliceStable(left, func(a, b int) bool { return r[left[a]] < r[left[b]] })
	// Radii within 5 % of the largest count as one ring.
	ring, start := make([]int, n), 0
	for k, i := range left {
		if r[i]-r[left[start]] > 0.05*r[left[n-1]] {
			start = k
		}
		ring[i] = start
	}
	sort.SliceStable(left, func(a, b int) bool {
		if ring[left[a]] != ring[left[b]] {
			return ring[left[a]] < ring[left[b]]
		}
		return left[a] < left[b]
	})
	order := make([]int, 0, n)
	for len(left) > 0 {
		first := left[0]
		order, left = append(order, first), left[1:]
		far, at := -1.0, -1
		for k, i := range left {
			if ring[i] != ring[first] {
				break
			}
			if d := math.Hypot(screws[i][0]-screws[first][0], screws[i][1]-screws[first][1]); d > far+1e-9 {
				far, at = d, k
			}
		}
		if at >= 0 {
			order = append(order, left[at])
			left = append(left[:at:at], left[at+1:]...)
		}
	}
	return order
}

// Stages are the torques of the three rounds: 40, 70 and 100 %.
func Stages(t unit.Torque) [3]unit.Torque { return [3]unit.Torque{0.4 * t, 0.7 * t, t} }
