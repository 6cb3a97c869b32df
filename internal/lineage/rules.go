package lineage

import "driftreach/internal/check"

// The rules about the last batch. None of them rejects a record; those that change a figure are
// warnings.
var (
	ruleGap      = check.Rule{Code: "previous-gap", Severity: check.Note, Remedy: "nothing to do if there was no survey; else run the quarters between first, each with --previous"}
	ruleSettings = check.Rule{Code: "previous-settings", Severity: check.Warning, Remedy: "nothing to do if you accept restated acres and a break in the series of the reach; else run the earlier quarters again with these settings"}
	ruleStreams  = check.Rule{Code: "previous-streams", Severity: check.Warning, Remedy: "nothing to do if you accept a break in the series of the reach; else run the earlier quarters again with these streams"}
	ruleUnits    = check.Rule{Code: "previous-units", Severity: check.Warning, Remedy: "nothing to do if you accept restated acres; else run the earlier quarters again with these units"}
	ruleGround   = check.Rule{Code: "previous-ground", Severity: check.Warning, Remedy: "run the earlier quarters again with this version, so that the chain knows which ground was looked at; until then finds away from known stands count as first looked at"}
	ruleVersion  = check.Rule{Code: "previous-version", Severity: check.Warning, Remedy: "nothing to do if you accept restated acres and a break in the series of the reach; else run the earlier quarters again with this version, the first of them without --previous"}
	ruleDefaults = check.Rule{Code: "previous-defaults", Severity: check.Warning, Remedy: "measure the patches in every quarter; until then do not read the observed change as growth or loss"}
	ruleStatuses = check.Rule{Code: "previous-statuses", Severity: check.Warning, Remedy: "give management_status in every quarter, or map the column that has it in the settings; nothing to do if these stands did grow again"}
	ruleColumns  = check.Rule{Code: "previous-columns", Severity: check.Note, Remedy: "nothing to do; a program that reads the files of both batches must know both names"}
)

// Rules returns every rule of this package.
func Rules() []check.Rule {
	return []check.Rule{ruleGap, ruleSettings, ruleStreams, ruleUnits, ruleGround, ruleVersion, ruleDefaults, ruleStatuses, ruleColumns}
}

// RuleGap is the rule for quarters without a batch between this quarter and the last batch.
func RuleGap() check.Rule { return ruleGap }

// RuleSettings is the rule for a last batch made with other settings.
func RuleSettings() check.Rule { return ruleSettings }

// RuleColumns is the rule for columns that had other names in the last batch.
func RuleColumns() check.Rule { return ruleColumns }

// RuleStreams is the rule for a last batch made with other streams.
func RuleStreams() check.Rule { return ruleStreams }

// RuleUnits is the rule for a last batch made with other reporting units.
func RuleUnits() check.Rule { return ruleUnits }

// RuleGround is the rule for a last batch that did not store its surveyed ground.
func RuleGround() check.Rule { return ruleGround }

// RuleVersion is the rule for a last batch made by another version, or stored in an older format.
func RuleVersion() check.Rule { return ruleVersion }

// RuleDefaults is the rule for a last batch that rests on default patches to another extent.
func RuleDefaults() check.Rule { return ruleDefaults }

// RuleStatuses is the rule for treated stands that are live in a quarter without any status.
func RuleStatuses() check.Rule { return ruleStatuses }
