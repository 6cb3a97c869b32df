package batch

import (
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/followup"
	"driftreach/internal/intake"
	"driftreach/internal/lineage"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/stretch"
)

// ruleWaterWorkLeftOut says that a table was not made because there are too many stands.
var ruleWaterWorkLeftOut = check.Rule{Code: "water-work-left-out", Severity: check.Note, Remedy: "if you want the table, set water_work.write to always"}

// Rules returns every rule that a finding about the input can have, by code.
func Rules() []check.Rule {
	all := slices.Concat(intake.Rules(), stream.NetworkRules(), followup.Rules(), lineage.Rules(), stretch.Rules(), settings.Rules(), []check.Rule{ruleWaterWorkLeftOut, ruleCommonGround})
	for _, role := range intake.Roles() {
		all = append(all, role.Rules()...)
	}
	slices.SortFunc(all, func(a, b check.Rule) int { return strings.Compare(a.Code, b.Code) })
	return all
}
