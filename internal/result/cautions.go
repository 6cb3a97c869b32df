package result

import (
	"strconv"
	"strings"
)

// Cautions returns what every reader of the batch's maps and tables must know,
// one sentence or two each, plain text, most binding first.
func Cautions(run *Run) []string {
	setback := strconv.FormatFloat(run.Setback, 'f', -1, 64)
	share := strconv.FormatFloat(100*run.RiskShare, 'f', -1, 64)
	cautions := []string{
		"This is a planning aid. It orders and sizes work; it does not authorise any.",
		"The product label is the law: where the label and this map differ, the label decides.",
		"Herbicide work in or near water is for licensed applicators, and local rules and permits decide whether, when and how.",
		"The aquatic zone is drawn " + setback + " m from the bank, as set for this batch. The distance that binds is the jurisdiction's.",
		"Stay out of flood water, and off banks that floods have undercut.",
		"A reach at risk is where at least " + share + " % of the fragments may still be afloat. It says where to look, not where plants are.",
		"Fragment amounts are a relative index, not a count.",
	}
	if len(run.Assumed) > 0 {
		cautions = append(cautions, "Assumed for this batch, without a local measurement: "+strings.Join(run.Assumed, ", ")+".")
	}
	return append(cautions, "A stand's own list \"Assumed\" names the measurements that were missing there.")
}
