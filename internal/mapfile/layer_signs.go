package mapfile

import (
	"driftreach/internal/check"
	"driftreach/internal/field"
	"driftreach/internal/intake"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// sign is a drawing rule of a layer: the rows it applies to, and their style. The styles are those of
// map.kmz and map.html; layers in other formats take them from here.
type sign struct {
	look  look
	where []condition // all must be true; a rule without conditions applies to every row
	off   bool        // not shown at first, if the style format allows that
}

// condition is a test of one field of a row.
type condition struct {
	field string
	must  demand
	word  string // for isWord
}

// demand is the kind of test.
type demand uint8

const (
	isWord  demand = iota // the text is the given word
	isTrue                // a flag is true
	isFalse               // a flag is false
	isKnown               // there is a value
	isBlank               // there is no value
	isOther               // the text is not the given word
)

// signsOf returns the rules of a layer by its table's name, those of the map's legend first; none for a
// table without a map.
func signsOf(layer string) []sign {
	switch layer {
	case "stands":
		return standSigns()
	case "reaches":
		return reachSigns()
	case "points":
		return pointSigns()
	case "findings":
		return findingSigns()
	case "aquatic_zone":
		return []sign{{look: zoneLook()}}
	case "absent":
		return []sign{{look: absentLook()}}
	case "notices":
		return []sign{{look: workLook()}}
	case "survey_next":
		return nextSigns()
	case "stand_parts":
		return []sign{
			{look: standLook(survey.Untreated, false), where: []condition{{"part", isWord, "to_treat"}}},
			{look: standLook(survey.Treated, false), where: []condition{{"part", isWord, "treated"}}},
		}
	}
	return plainSigns(layer)
}

// standSigns distinguish stands by zone, by status and by whether they were surveyed.
func standSigns() []sign {
	var all []sign
	for _, carried := range []bool{false, true} {
		for _, inZone := range []bool{true, false} {
			for _, s := range survey.Statuses() {
				l := standLook(s, inZone)
				if carried {
					l = carriedLook(s, inZone)
				}
				all = append(all, sign{look: l, where: []condition{
					flagged(field.Carried, carried), flagged(field.AquaticZone, inZone), {field.ManagementStatus, isWord, s.String()},
				}})
			}
		}
	}
	return all
}

func flagged(name string, yes bool) condition {
	if yes {
		return condition{name, isTrue, ""}
	}
	return condition{name, isFalse, ""}
}

// reachSigns distinguish classes. Those of a flood, which cover the others, are not shown at first.
func reachSigns() []sign {
	var all []sign
	for _, flood := range []bool{false, true} {
		stage := condition{"stage", isOther, floodStage}
		if flood {
			stage.must = isWord
		}
		for _, c := range classes {
			s := sign{look: reachLook(c), where: []condition{{"exposure_class", isWord, result.ClassWord(c)}, stage}, off: flood}
			if flood {
				s.look.label += ", in flood"
			}
			all = append(all, s)
		}
	}
	return all
}

// floodStage is the value of the field stage for flood.
const floodStage = "flood"

// pointSigns distinguish survey records by what was found.
func pointSigns() []sign {
	var all []sign
	for _, s := range survey.Statuses() {
		all = append(all, sign{look: pointLook(&survey.Record{Detected: true, Status: s}), where: []condition{
			{field.OccurrenceStatus, isWord, "detected"}, {field.ManagementStatus, isWord, s.String()},
		}})
	}
	return append(all, sign{look: pointLook(&survey.Record{}), where: []condition{{field.OccurrenceStatus, isWord, "notDetected"}}})
}

// nextSigns are the rules for the stretches on the list of where to survey next.
func nextSigns() []sign {
	listed := condition{field.Listed, isTrue, ""}
	return []sign{
		{look: nextLook(true), where: []condition{listed, {field.LookedAt, isWord, "never"}}},
		{look: nextLook(false), where: []condition{listed, {field.LookedAt, isOther, "never"}}},
	}
}

// findingSigns distinguish the severities by their grey.
func findingSigns() []sign {
	var all []sign
	for _, f := range []struct {
		severity check.Severity
		label    string
		fill     ink
	}{{check.Error, "Record rejected", black}, {check.Warning, "Something assumed or repaired", grey}, {check.Note, "Note", white}} {
		all = append(all, sign{
			look:  look{id: "finding-" + f.severity.String(), label: f.label, fill: f.fill, shape: triangle},
			where: []condition{{"severity", isWord, f.severity.String()}},
		})
	}
	return all
}

// streamLine is the blue of a stream, as map.html draws it.
const streamLine ink = 0x5482A8

// plainSigns are the rules for layers that map.kmz does not show, in colours without another meaning.
func plainSigns(layer string) []sign {
	switch layer {
	case "network":
		return []sign{{look: look{id: "stream", label: "Stream", line: streamLine, width: 1.2}}}
	case "looked_at":
		return []sign{{look: look{id: "looked-at", label: "Looked at", line: grey, width: 0.75, fill: grey, cover: 0.15}}}
	case "followup":
		return []sign{
			{look: look{id: "visit-overdue", label: "Visit overdue", fill: deepPurple, shape: square}, where: []condition{{field.Overdue, isTrue, ""}}},
			{look: look{id: "visit", label: "Visit due later", fill: palePurple, shape: square}, where: []condition{{field.Overdue, isFalse, ""}, {field.Due, isKnown, ""}}},
			{look: look{id: "visit-part", label: "Treated part to look at later", fill: palePurple, shape: square}, where: []condition{{field.Overdue, isFalse, ""}, {field.Due, isBlank, ""}, {field.LookAgain, isKnown, ""}}},
			{look: look{id: "visit-none", label: "No day set", fill: white, shape: square}, where: []condition{{field.Overdue, isFalse, ""}, {field.Due, isBlank, ""}, {field.LookAgain, isBlank, ""}}},
		}
	case "crew_stops":
		return []sign{
			{look: look{id: "stop", label: "Stop", fill: deepPurple, shape: square}, where: []condition{{field.Stop, isKnown, ""}}},
			{look: look{id: "stop-later", label: "Nobody need go now", fill: white, shape: square}, where: []condition{{field.Stop, isBlank, ""}}},
		}
	case intake.RoleTreatments:
		return []sign{{look: look{id: "work-done", label: "Work to be filled in", fill: yellow, shape: square}}}
	}
	return nil
}
