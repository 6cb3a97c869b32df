package followup

import "driftreach/internal/check"

// The rules of this package.
var (
	ruleStandUnknown = check.Rule{Code: "treatment-stand-unknown", Severity: check.Warning, Remedy: "correct stand_id: the ids are in stands.csv and followup.csv of this batch and of the one before; or give the position of the work"}
	ruleNoStand      = check.Rule{Code: "treatment-without-stand", Severity: check.Warning, Remedy: "correct the position, or name the stand in stand_id; a stand that no batch has mapped cannot be followed up"}
)

// Rules returns every rule of this package.
func Rules() []check.Rule { return []check.Rule{ruleStandUnknown, ruleNoStand} }
