// Package judge makes checks: a value, its guard and a limit, judged by the one rule
// (budget.Decide). It is the only place that sets a verdict of a reading; waived, void and
// waiting are the engine's. It holds the limits that kinds share.
package judge
