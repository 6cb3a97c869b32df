package batch

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/control"
	"driftreach/internal/correction"
	"driftreach/internal/followup"
	"driftreach/internal/intake"
	"driftreach/internal/lineage"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
	"driftreach/internal/unit"
	"driftreach/internal/work"
)

// Rules returns every rule that a finding of the input may name, by code.
func Rules() []check.Rule {
	all := slices.Concat(intake.Rules(), survey.Rules(), stream.Rules(), stream.NetworkRules(), stream.StructureRules(), stream.SurfaceRules(),
		work.Rules(), unit.Rules(), surveyed.Rules(), control.Rules(), correction.Rules(), followup.Rules(), lineage.Rules(), settings.Rules())
	slices.SortFunc(all, func(a, b check.Rule) int { return strings.Compare(a.Code, b.Code) })
	return all
}

// FindingsMarkdown returns the table of every finding for the README.
func FindingsMarkdown() string {
	var b strings.Builder
	b.WriteString("| code | severity | what you can do |\n|---|---|---|\n")
	for _, r := range Rules() {
		fmt.Fprintf(&b, "| `%s` | %s | %s |\n", r.Code, r.Severity, r.Remedy)
	}
	return b.String()
}
