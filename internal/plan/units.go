package plan

import (
	"driftreach/geo"
)

type (
	// Cost is an amount in the unit of the budget: money, hours, or acres.
	Cost float64
	// CostPerAcre is the cost of an acre.
	CostPerAcre float64
	// PerYear is yearly growth: 0.1 for a tenth more after a year.
	PerYear float64
)

// of returns the cost of acres.
func (c CostPerAcre) of(a geo.Acres) Cost { return Cost(float64(a) * float64(c)) }

// share returns a share of c.
func (c Cost) share(s geo.Share) Cost { return c * Cost(s) }
