package jobs

import "slices"

// secondSides are the kinds of setup in which the turned part lies on a fixture: @second in a rule of the table.
var secondSides = []string{"second-side", "dowel-flip", "soft-jaws"}

// Second says that the turned part is cut here, on a fixture.
func (s *Setup) Second() bool { return s.From != "" || slices.Contains(secondSides, s.Kind) }
