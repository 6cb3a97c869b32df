package result

import (
	"slices"
	"strconv"
	"strings"
)

// travelCaution is about hours afloat. The standard error is the one that Jobson (1996) gives for his
// own equations.
const travelCaution = "Hours afloat rest on a velocity that is seldom measured. One by stream order is assumed, " +
	"and the equations of Jobson (1996) have a standard error of about 100 %. Plan by hours_afloat_fast, never by the mean alone."

// bandCaution is the text after the number of draws.
const bandCaution = " draws. They cover only the spreads set for half-distance, pass share, release and setback, " +
	"not velocity or the split at a braid."

// marginCaution is about P10 and P90 of acres.
const marginCaution = "P10 to P90 of acres leave out plants that nobody found, and gross acres lost where inexact positions split a row: up to 13 % at 8 m."

// FloodCaution is for everyone who visits a stand.
const FloodCaution = "Stay out of flood water, and off banks that floods have undercut."

// Cautions returns what every reader of the batch's maps and tables must know, one or two sentences
// each, as plain text, the most important first.
func Cautions(run *Run) []string {
	cautions := append(WorkCautions(run), RiskCaution(run), "Fragment amounts are a relative index, not a count.")
	if c := PublicCaution(run); c != "" {
		cautions = slices.Insert(cautions, 1, c)
	}
	if n, acres := run.carriedAcres(); n > 0 {
		were := "were"
		if n == 1 {
			were = "was"
		}
		cautions = append(cautions, strconv.Itoa(n)+" of the stands "+were+" not looked at in full this quarter: "+run.AcresShown(acres)+
			" infested acres of them are as last known, marked carried. That says nothing about control.")
	}
	if len(run.Stands) > 0 {
		cautions = append(cautions, marginCaution)
	}
	if len(run.Reaches) > 0 {
		cautions = append(cautions, travelCaution)
	}
	if run.Draws > 0 {
		cautions = append(cautions, "P10 to P90 of reach and exposure come from "+strconv.Itoa(run.Draws)+bandCaution)
	}
	if assumed := AssumedCaution(run); assumed != "" {
		cautions = append(cautions, assumed)
	}
	return append(cautions, "Each stand's list \"Assumed\" names the measurements that were missing there.")
}

// CrewCautions returns what a crew must know at a stand: the first of Cautions, and where the rest is.
func CrewCautions(run *Run) []string {
	cautions := WorkCautions(run)
	if len(run.Assumed) > 0 {
		cautions = append(cautions, assumedOnPage)
	}
	return cautions
}

// assumedOnPage stands in place of the names of settings, which say nothing to most readers.
const assumedOnPage = "What nobody measured here is assumed: the page of this batch, report.html, names every such value."

// PageCautions returns the Cautions for a page to look at: it does not list the settings assumed, but
// says where they are.
func PageCautions(run *Run) []string {
	cautions, assumed := Cautions(run), AssumedCaution(run)
	for i := range cautions {
		if assumed != "" && cautions[i] == assumed {
			cautions[i] = assumedOnPage
		}
	}
	return cautions
}

// WorkCautions are the cautions that bind whoever works at a stand.
func WorkCautions(run *Run) []string {
	setback := strconv.FormatFloat(run.Setback, 'f', -1, 64)
	return []string{
		"This is a planning aid. It orders and sizes work; it does not authorise any.",
		"The product label is the law: where the label and this map differ, the label decides.",
		"Herbicide work in or near water is for licensed applicators, and local rules and permits decide whether, when and how.",
		"The aquatic zone is drawn " + setback + " m from the bank, as set for this batch. The distance that binds is the jurisdiction's.",
		FloodCaution,
	}
}

// RiskCaution returns the caution that explains what stream at risk is.
func RiskCaution(run *Run) string {
	share := strconv.FormatFloat(100*run.RiskShare, 'f', -1, 64)
	return strings.Replace(RiskRule, "drift.risk_share", share+" %", 1) + " It says where to look, not where plants are."
}

// AssumedCaution returns the caution that names the settings assumed for the whole batch; blank if
// there are none. A page that lists them with their values does not need it.
func AssumedCaution(run *Run) string {
	if len(run.Assumed) == 0 {
		return ""
	}
	return "Assumed for this batch, without a local measurement: " + strings.Join(run.Assumed, ", ") + "."
}
