package intake

import (
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
)

// Rules returns every rule about reading and understanding a file.
func Rules() []check.Rule {
	return slices.Concat(format.Rules(), column.Rules(), []check.Rule{
		ruleCoverClass, ruleNoDate, ruleDate, ruleUnreadable, ruleNoRecords,
		ruleEmpty, ruleKind(kindsOfRoles()), ruleMalformed, ruleNotFinite, ruleWrongInteger, ruleNumber,
		ruleOccurrence, ruleOutlineRepair, rulePatchPart, rulePosition, ruleDegrees, ruleOtherZone, ruleRagged, ruleStatus,
		rulePresence, ruleApproximate, ruleSerial, ruleUTC,
	})
}

// kindsOfRoles lists the geometries that every kind of input accepts.
func kindsOfRoles() string {
	var said []string
	for _, r := range Roles() {
		if len(r.shapes) > 0 {
			said = append(said, r.Name+" as "+r.shapes.String())
		}
	}
	return "give " + strings.Join(said, "; ")
}
