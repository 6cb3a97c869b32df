package intake

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/testkit"
)

// sheet is a survey of finds and absences with the given name for the column of presence.
func sheet(column string, words ...string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "occurrenceID,eventDate,decimalLongitude,decimalLatitude,patch_area_m2,%s\n", column)
	for i, word := range words {
		fmt.Fprintf(&b, "%d,2026-07-01,-117.2%03d1,34.10001,100,%s\n", i, i, word)
	}
	return b.String()
}

func found(p Points) string {
	var b strings.Builder
	for i := range p.Records {
		b.WriteByte(map[bool]byte{true: '+', false: '-'}[p.Records[i].Detected])
	}
	return b.String()
}

// TestPresenceByName: columns of any program for whether the plant was found are recognised, with
// one finding; derived by hand.
func TestPresenceByName(t *testing.T) {
	for _, c := range []struct {
		column string
		words  []string
		want   string
	}{
		{"Present?", []string{"Yes", "No", "no", "YES"}, "+--+"}, {"plant_found", []string{"y", "n", "N", "Y"}, "+--+"}, {"PRES", []string{"1", "0", "0", "1"}, "+--+"},
		{"Detected", []string{"true", "false", "FALSE", "TRUE"}, "+--+"}, {"Found", []string{"present", "absent", "Absent", "Present"}, "+--+"},
		{"PlantPresent", []string{"T", "F", "F", "T"}, "+--+"}, {"Presence/Absence", []string{"found", "not found", "Not Found", "found"}, "+--+"},
		{"Seen", []string{"yes", "no", "no", "yes"}, "+--+"}, {"Fund", []string{"ja", "nein", "nein", "ja"}, "+--+"}, {"Found?", []string{"yes", "no", "", "yes"}, "+-++"},
		{"Result", []string{"detected", "not detected", "", "detected"}, "+-++"}, {"Present", []string{"no", "no", "no", "no"}, "----"},
	} {
		p, findings, err := ReadPoints(testkit.Source("points", strings.NewReader(sheet(c.column, c.words...))), testOptions())
		if err != nil {
			t.Errorf("%s: %v", c.column, err)
			continue
		}
		if found(p) != c.want || codes(findings) != "presence-by-name" {
			t.Errorf("%s: %s, want %s; %s", c.column, found(p), c.want, codes(findings))
		}
		if want := (column.Proposal{Field: "occurrenceStatus", Column: c.column}); len(p.Proposals) != 1 || p.Proposals[0] != want {
			t.Errorf("%s: proposed %v", c.column, p.Proposals)
		}
		o := testOptions()
		o.Mapping.Columns = single(map[string]string{"occurrenceStatus": c.column})
		again, findings, err := ReadPoints(testkit.Source("points", strings.NewReader(sheet(c.column, c.words...))), o)
		if err != nil || len(findings) > 0 || found(again) != c.want {
			t.Errorf("%s, as proposed: %s, %v, %v", c.column, found(again), findings, err)
		}
	}
}

// TestPresenceStops: presence in unknown words, or given twice with different values, is not
// guessed: a trial reports it and continues reading.
func TestPresenceStops(t *testing.T) {
	for _, c := range []struct {
		column, remedy string
		words          []string
	}{
		{"Present?", `"maybe" = "detected" or "notDetected"`, []string{"yes", "maybe", "no"}},
		{"Found", `"" = "detected" or "notDetected"`, []string{"x", "", "x"}},
		{"Absent", `"no" = "detected" or "notDetected"`, []string{"no", "yes", "no"}},
		{"Status", `"dying" = "detected" or "notDetected"`, []string{"present", "absent", "dying"}},
		{"Found,Detected", `occurrenceStatus = "Detected"`, []string{"yes,no", "no,no", "yes,yes"}},
		{"Found", `occurrenceStatus = ""`, []string{"7", "3", "0"}},
	} {
		text := sheet(c.column, c.words...)
		_, _, err := ReadPoints(testkit.Source("points", strings.NewReader(text)), testOptions())
		var unusable *format.UnusableError
		if !errors.As(err, &unusable) || !strings.Contains(unusable.Remedy, c.remedy) {
			t.Errorf("%s %v: %v, want the remedy %s", c.column, c.words, unusable, c.remedy)
		}
		o := testOptions()
		o.Trial = true
		p, _, err := ReadPoints(testkit.Source("points", strings.NewReader(text)), o)
		if err != nil || len(p.Stops) == 0 || len(p.Records) != 3 {
			t.Errorf("%s, on trial: %d records, stops %v, %v", c.column, len(p.Records), p.Stops, err)
		}
	}
	// with mapped words it is read
	o := testOptions()
	o.Mapping.Values = map[string]map[string]string{"occurrenceStatus": {"": "notDetected"}}
	p, _, err := ReadPoints(testkit.Source("points", strings.NewReader(sheet("Found", "x", "", "x"))), o)
	if err != nil || found(p) != "+-+" {
		t.Errorf("%s, %v", found(p), err)
	}
	// and a column with another meaning is ignored
	o = testOptions()
	o.Mapping.Columns = map[string]column.Names{"occurrenceStatus": {""}}
	if p, findings, err := ReadPoints(testkit.Source("points", strings.NewReader(sheet("Found", "7", "3", "0"))), o); err != nil || found(p) != "+++" || len(findings) > 0 {
		t.Errorf("%s, %v, %v", found(p), findings, err)
	}
}

// TestColumnsThatSayNothingOfPresence: such columns are carried; those with two values are
// reported.
func TestColumnsThatSayNothingOfPresence(t *testing.T) {
	for _, c := range []struct {
		column, want string
		words        []string
	}{
		{"Gate", "column-two-valued", []string{"open", "shut", "shut", "open"}}, {"Gate", "column-two-valued", []string{"Open", "shut", "SHUT", "open"}},
		{"Photo", "column-two-valued", []string{"Yes", "yes", "no", "N"}}, {"Photo", "", []string{"Yes", "yes", "YES", "yes"}},
		{"Date found", "", []string{"2026-07-01", "2026-07-02", "2026-07-01", "2026-07-03"}},
		{"Found", "", []string{"2026-07-01", "2026-07-02", "2026-07-01", "2026-07-03"}}, {"Found by", "", []string{"a", "b", "c", "a"}},
		{"Remarks", "", []string{"absent", "by the ford", "under the bridge", "tall"}}, {"Wildlife present", "column-two-valued", []string{"yes", "no", "yes", "no"}}, {"Plant", "", []string{"found", "found", "found", "found"}},
	} {
		p, findings, err := ReadPoints(testkit.Source("points", strings.NewReader(sheet(c.column, c.words...))), testOptions())
		if err != nil || codes(findings) != c.want || found(p) != "++++" {
			t.Errorf("%s: %s, want %s; %s, %v", c.column, codes(findings), c.want, found(p), err)
		}
		if len(findings) > 0 && findings[0].Rule.Severity != check.Warning {
			t.Errorf("%s: %v", c.column, findings[0])
		}
	}
}

// TestTwoValuesLate: a column's third value occurs only after the sampled rows.
func TestTwoValuesLate(t *testing.T) {
	words := make([]string, 1500)
	for i := range words {
		words[i] = []string{"open", "shut"}[i%2]
	}
	p, findings, err := ReadPoints(testkit.Source("points", strings.NewReader(sheet("Gate", words...))), testOptions())
	if err != nil || codes(findings) != "column-two-valued" || !strings.Contains(findings[0].Message, "open 750 times and shut 750 times") {
		t.Errorf("%v, %v, %v", codes(findings), findings, err)
	}
	words[1400] = "locked"
	if _, findings, _ = ReadPoints(testkit.Source("points", strings.NewReader(sheet("Gate", words...))), testOptions()); len(findings) > 0 {
		t.Errorf("%v", findings)
	}
	_ = p
}

// TestPresenceWhateverTheOrder: records in another order give the same findings and the same
// result.
func TestPresenceWhateverTheOrder(t *testing.T) {
	for _, words := range [][]string{{"present", "absent", "present", "not detected"}, {"dying", "absent", "present", "absent"}, {"", "absent", "present", "absent"}} {
		var told string
		for shift := range words {
			turned := append(append([]string(nil), words[shift:]...), words[:shift]...)
			p, findings, err := ReadPoints(testkit.Source("points", strings.NewReader(sheet("Status", turned...))), testOptions())
			said := fmt.Sprint(err, len(findings), strings.Count(found(p), "+"))
			for _, f := range findings {
				said += f.Message
			}
			if shift == 0 {
				told = said
			} else if said != told {
				t.Errorf("%v says\n%s, before\n%s", turned, said, told)
			}
		}
	}
}
