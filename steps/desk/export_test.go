package desk

import "fliptrue/steps/fold"

// StockOver is what a program finds over the finished part, mm.
func StockOver(p *fold.Plan, get GetFact) float64 {
	_, stock := partBox(p, get)
	return stock
}
