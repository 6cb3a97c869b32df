package main

import (
	"errors"
	"strconv"

	"driftreach/internal/settings"
)

// budgetFlag is --budget: what a quarter has; blank when it is left to the settings.
type budgetFlag string

// String returns what was given.
func (b *budgetFlag) String() string { return string(*b) }

// Type names the value in help.
func (b *budgetFlag) Type() string { return "MUCH" }

// Set takes a number above 0, or 0 for no plan.
func (b *budgetFlag) Set(text string) error {
	if v, err := strconv.ParseFloat(text, 64); err != nil || !(v >= 0 && v <= mostBudget) {
		return errors.New("it takes a number, as in 12; 0 makes no plan")
	}
	*b = budgetFlag(text)
	return nil
}

// mostBudget is that of plan.budget.
const mostBudget = 1e12

// over returns the settings with what the command line says, which wins over the file
// and --set.
func (f *batchFlags) over(s settings.Settings) settings.Settings {
	if f.budget != "" {
		s.Plan.Budget, _ = strconv.ParseFloat(string(f.budget), 64) // Set has read it
	}
	return f.stage.over(s)
}
