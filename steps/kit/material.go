package kit

import (
	"strings"

	"fliptrue/jobs"
)

type jobsFeature = jobs.Feature

type jobsSetup = jobs.Setup

func Feature(name string, x, y float64) jobsFeature {
	return jobsFeature{Name: name, At: jobs.Point{X: x, Y: y}}
}

// woods are the words by which a material's name says that it is wood.
var woods = []string{"walnut", "maple", "wood", "oak", "cherry", "beech", "ebony", "rosewood", "boxwood", "burl"}

func IsWood(material string) bool {
	m := strings.ToLower(material)
	for _, w := range woods {
		if strings.Contains(m, w) {
			return true
		}
	}
	return false
}

func IsStabilised(material string) bool {
	return strings.Contains(strings.ToLower(material), "stabilis") || strings.Contains(strings.ToLower(material), "stabiliz")
}
