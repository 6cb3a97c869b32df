package lineage

import "driftreach/internal/check"

// The rules about the batch before. None of them rejects anything; those that move a
// figure are warnings.
var (
	ruleGap      = check.Rule{Code: "previous-gap", Severity: check.Note, Remedy: "nothing to do if there was no survey; else run the quarters between first, each with --previous"}
	ruleSettings = check.Rule{Code: "previous-settings", Severity: check.Warning, Remedy: "nothing to do if you accept restated acres and a break in the series of the reach; else run the earlier quarters again with these settings"}
	ruleStreams  = check.Rule{Code: "previous-streams", Severity: check.Warning, Remedy: "nothing to do if you accept a break in the series of the reach; else run the earlier quarters again with these streams"}
	ruleUnits    = check.Rule{Code: "previous-units", Severity: check.Warning, Remedy: "nothing to do if you accept restated acres; else run the earlier quarters again with these units"}
	ruleGround   = check.Rule{Code: "previous-ground", Severity: check.Warning, Remedy: "run the earlier quarters again with this version, so that the chain knows which ground was looked at; until then finds away from known stands count as first looked at"}
	ruleVersion  = check.Rule{Code: "previous-version", Severity: check.Warning, Remedy: "nothing to do if you accept restated acres and a break in the series of the reach; else run the earlier quarters again with this version, the first of them without --previous"}
	ruleColumns  = check.Rule{Code: "previous-columns", Severity: check.Note, Remedy: "nothing to do; a program that reads the files of both batches must know both names"}
)

// Rules returns every rule of this package.
func Rules() []check.Rule {
	return []check.Rule{ruleGap, ruleSettings, ruleStreams, ruleUnits, ruleGround, ruleVersion, ruleColumns}
}

// RuleGap is the rule for quarters without a batch between this one and the one before.
func RuleGap() check.Rule { return ruleGap }

// RuleSettings is the rule for a batch before that was made with other settings.
func RuleSettings() check.Rule { return ruleSettings }

// RuleColumns is the rule for columns of the batch before that have other names now.
func RuleColumns() check.Rule { return ruleColumns }

// RuleStreams is the rule for a batch before that was made with other streams.
func RuleStreams() check.Rule { return ruleStreams }

// RuleUnits is the rule for a batch before that was made with other reporting units.
func RuleUnits() check.Rule { return ruleUnits }

// RuleGround is the rule for a batch before that kept no ground looked at.
func RuleGround() check.Rule { return ruleGround }

// RuleVersion is the rule for a batch before that another version made, or that is
// of an older form.
func RuleVersion() check.Rule { return ruleVersion }
