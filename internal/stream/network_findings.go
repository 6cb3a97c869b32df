package stream

import (
	"slices"
	"strings"

	"driftreach/geo/flow"
	"driftreach/internal/check"
)

// networkRules gives, for each kind of trouble, what it means for the figures and what the user can
// do. A finding's code is "network-" plus the kind.
var networkRules = map[string]check.Rule{
	flow.GapClosed:         {Severity: check.Warning, Remedy: "snap the ends together in the source, or lower network.snap_m if they should stay apart"},
	flow.GapOpen:           {Severity: check.Warning, Remedy: "extend the line, or set network.close_gap_m to at least the width of the gap"},
	flow.Crossing:          {Severity: check.Note, Remedy: "nothing to do if one passes over the other; if the waters join, end one line on the other"},
	flow.AllAgainst:        {Severity: check.Warning, Remedy: "reverse the lines in the source, map from_node and to_node or hydroseq, or set network.digitised = \"upstream\"; nothing to do in a delta or a canal system"},
	flow.TJunction:         {Severity: check.Note, Remedy: "nothing to do; to get rid of this note, split the line at the junction in the source"},
	flow.ZeroLength:        {Severity: check.Warning, Remedy: "delete the line, or draw it with two places"},
	flow.Unusable:          {Severity: check.Warning, Remedy: "correct the position in the source"},
	flow.SelfCrossing:      {Severity: check.Note, Remedy: "check how the line was drawn; its length counts as drawn"},
	flow.EndsApart:         {Severity: check.Warning, Remedy: "correct from_node and to_node, or move the ends together"},
	flow.NamesIncomplete:   {Severity: check.Warning, Remedy: "give nodes for every line, or for none; check on the map that lines which only cross were not joined"},
	flow.ReversedDirection: {Severity: check.Warning, Remedy: "reverse the line in the source, map from_node and to_node, or add the line that continues from there"},
	flow.CycleCut:          {Severity: check.Warning, Remedy: "water cannot go round: reverse the line that runs uphill"},
	flow.Dangle:            {Severity: check.Warning, Remedy: "extend the line to the one that it should join, or raise network.snap_m; nothing to do if no water passes there"},
	flow.ManyMeet:          {Severity: check.Warning, Remedy: "check that the lines are streams: many lines that meet in one place are often a label, a grid or a wrong selection; or lower network.snap_m"},
	flow.Island:            {Severity: check.Note, Remedy: "connect the part if water flows from it to the rest"},
	flow.TwoOutlets:        {Severity: check.Note, Remedy: "check that water really leaves at each of them"},
	flow.LooseBranch:       {Severity: check.Warning, Remedy: "reverse the line that is drawn against the flow, as a tributary drawn from its mouth up is, or give from_node and to_node; mark a real arm or canal with divergence 2"},
	flow.SharesNormalised:  {Severity: check.Warning, Remedy: "make the flow_share values at the place add up to 1"},
	flow.SharesIncomplete:  {Severity: check.Warning, Remedy: "give a flow_share for every branch at this place, or for none"},
	flow.TwoMains:          {Severity: check.Warning, Remedy: "mark one branch as the main path (divergence 1), the others as minor (2)"},
	flow.AreaMissing:       {Severity: check.Note, Remedy: "give a catchment for every line, or for none"},
	flow.BraidTooLarge:     {Severity: check.Note, Remedy: "nothing to do; inside this braid the true totals may be higher"},
	"order-differs":        {Severity: check.Note, Remedy: "add the streams above to the layer, which looks clipped; or correct stream_order. The recorded orders are used"},
	"length-differs":       {Severity: check.Note, Remedy: "use whole lines: the lines named here look cut; or leave length_km blank, and the drawn length counts"},
	"drainage-differs":     {Severity: check.Note, Remedy: "add the streams above to the layer, which looks clipped; or correct catchment_km2 or drainage_km2"},
	flow.RepeatedName:      {Severity: check.Warning, Remedy: "give every line its own id"},
	flow.UnknownDivergence: {Severity: check.Warning, Remedy: "write 0 (none), 1 (main path) or 2 (minor path)"},
}

// NetworkRules returns the rules of the network's findings, with their codes.
func NetworkRules() []check.Rule {
	rules := make([]check.Rule, 0, len(networkRules))
	for kind := range networkRules { // sorted below
		rules = append(rules, networkRule(kind))
	}
	slices.SortFunc(rules, func(a, b check.Rule) int { return strings.Compare(a.Code, b.Code) })
	return rules
}

func networkRule(kind string) check.Rule {
	rule, known := networkRules[kind]
	if !known {
		rule = check.Rule{Severity: check.Warning, Remedy: "look at the place on a map"}
	}
	rule.Code = "network-" + kind
	return rule
}

// mostNamed is the largest number of lines named in one finding. Our choice.
const mostNamed = 8

// networkFindings turns the network's troubles into findings.
func networkFindings(lines []Centerline, troubles []flow.Trouble) []check.Finding {
	var log check.Log
	for _, t := range troubles {
		at := t.At
		f := check.Finding{Rule: networkRule(t.Kind), Field: "geometry", Message: t.Message + "; " + t.Repair, Position: &at}
		if len(t.Lines) > 0 {
			f.File, f.Record = lines[t.Lines[0]].File, lines[t.Lines[0]].ID
		}
		names := make([]string, 0, mostNamed)
		for _, line := range t.Lines[:min(len(t.Lines), mostNamed)] {
			names = append(names, lines[line].ID)
		}
		f.Value = strings.Join(names, " ")
		log.Add(f)
	}
	return log.Findings()
}

// found lists the kinds of trouble of each line.
func found(lines int, troubles []flow.Trouble) [][]string {
	out := make([][]string, lines)
	for _, t := range troubles {
		for _, line := range t.Lines {
			out[line] = append(out[line], t.Kind)
		}
	}
	for i := range out {
		slices.Sort(out[i])
		out[i] = slices.Compact(out[i])
	}
	return out
}
