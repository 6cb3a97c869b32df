package main

import (
	"errors"
	"strconv"
)

// budgetFlag is --budget: what can be spent in a quarter; blank to use the settings.
type budgetFlag string

// String returns the text of the flag.
func (b *budgetFlag) String() string { return string(*b) }

// Type is the name of the value in help.
func (b *budgetFlag) Type() string { return "AMOUNT" }

// Set takes a number above 0, or 0 for no plan.
func (b *budgetFlag) Set(text string) error {
	if v, err := strconv.ParseFloat(text, 64); err != nil || !(v >= 0 && v <= mostBudget) {
		return errors.New("it takes a number, as in 12; 0 makes no plan")
	}
	*b = budgetFlag(text)
	return nil
}

// mostBudget is the largest value of plan.budget.
const mostBudget = 1e12
