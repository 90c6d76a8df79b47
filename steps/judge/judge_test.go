package judge_test

import (
	"errors"
	"math"
	"testing"

	"fliptrue/steps/fold"
	"fliptrue/steps/judge"
)

// Each way of judging gives each verdict, at numbers worked by hand.
func TestVerdicts(t *testing.T) {
	most, least := fold.Limit{ID: "m", Max: 0.010}, fold.Limit{ID: "l", Max: 4, Min: true}
	for name, c := range map[string]struct {
		got  fold.Check
		want fold.Verdict
	}{
		"most, by its guard":           {judge.Most(most, 0.008, 0.002), fold.Pass},
		"most, inside the guard":       {judge.Most(most, 0.009, 0.002), fold.NotProven},
		"most, beyond it less guard":   {judge.Most(most, 0.012, 0.002), fold.Fail},
		"most, beyond it but unproven": {judge.Most(most, 0.0115, 0.002), fold.NotProven},
		"no number":                    {judge.Most(most, math.NaN(), 0.002), fold.Fail},
		"least":                        {judge.Of(least, 4.5, 0.5), fold.Pass},
		"least, inside":                {judge.Of(least, 4.4, 0.5), fold.NotProven},
		"least, below":                 {judge.Least(least, 3.5, 0.5), fold.Fail},
		"off by too much either way":   {judge.Off(most, -5.011, -5, 0), fold.Fail},
		"off by little":                {judge.Off(most, -4.991, -5, 0), fold.Pass},
		"one end of a material":        {judge.Ends(most, 1, false, true), fold.NotProven},
		"neither end":                  {judge.Ends(most, 1, false, false), fold.Fail},
		"a fault":                      {judge.Faults(most, []string{"Too high."}), fold.Fail},
		"no fault":                     {judge.Faults(most, nil), fold.Pass},
		"refused":                      {judge.Refused("x", "why", errors.New("no")), fold.Fail},
		"unknown":                      {judge.Unknown(most, "Not computed."), fold.NotProven},
		"overruled":                    {judge.Fails(judge.Most(most, 0, 0), "It went the wrong way."), fold.Fail},
	} {
		if c.got.Verdict != c.want {
			t.Errorf("%s: %v, want %v", name, c.got.Verdict, c.want)
		}
	}
}
