package intake

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"driftreach/geo"
	"driftreach/internal/correction"
	"driftreach/internal/format"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
	"driftreach/internal/treatable"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
	"driftreach/internal/valued"
	"driftreach/internal/work"
)

// cupboard holds the records of every role that is read from a table.
type cupboard struct {
	works       []work.Work
	treatments  []treatment.Treatment
	corrections []correction.Correction
	rules       []treatable.Rule
	places      []valued.Place
	barriers    []stream.Structure
	units       []unit.Unit
}

func (s *cupboard) Slots() []any {
	return []any{&s.works, &s.treatments, &s.corrections, &s.rules, &s.places, &s.barriers, &s.units}
}

// TestValuesOfEveryRole: what check shows of a record, for every field of every role that a table can
// hold: the value as it was understood, and blank for what is not a field. By hand: 4 mph are 1.78816
// metres a second, and 68 °F are 20 °C (NIST SP 811).
func TestValuesOfEveryRole(t *testing.T) {
	for _, c := range []struct {
		role, table string
		want        map[string]string
	}{
		{RoleWorks, "work_id,kind,start_date,end_date,contact,decimalLongitude,decimalLatitude\nw1,mowing,2026-10-01,2026-10-09,Roads,10.5,20.25\n",
			map[string]string{"work_id": "w1", "kind": "mowing", "start_date": "2026-10-01", "end_date": "2026-10-09", "contact": "Roads", "decimalLongitude": "10.5", "decimalLatitude": "20.25", "none": ""}},
		{RoleTreatments, "treatment_id,date,stand_id,method,formulation_class,treated_acres,decimalLongitude,decimalLatitude,product,registration_number,amount,amount_unit,applicator,licence,start_time,end_time,wind_mps,temperature_c,hours,photo_numbers\n" +
			"t1,2026-07-02,2026Q2-0001,foliar spray,glyphosate,0.25,10.5,20.25,Clear,1-2-3,1.5,gal,A. Lee,L7,0.375,10:30,4 mph,68 F,3,12-15\n",
			map[string]string{"date": "2026-07-02", "stand_id": "2026Q2-0001", "treated_acres": "0.25", "decimalLongitude": "10.5", "decimalLatitude": "20.25", "product": "Clear", "registration_number": "1-2-3", "amount": "1.5", "amount_unit": "gal", "applicator": "A. Lee",
				"licence": "L7", "start_time": "09:00", "end_time": "10:30", "wind_mps": "1.78816", "temperature_c": "20", "hours": "3", "photo_numbers": "12-15", "none": ""}},
		{RoleTreatments, "date,stand_id,method\n2026-07-02,2026Q2-0001,cut\n", map[string]string{"decimalLongitude": "", "decimalLatitude": "", "treated_acres": "", "amount": "", "hours": "", "date": "2026-07-02"}},
		{RoleCorrections, "date,correction,occurrenceID,stand_id,other_stand_id,reason\n2026-07-02,absence was wrong,r1,,,a slip\n",
			map[string]string{"date": "2026-07-02", "correction": "absence was wrong", "occurrenceID": "r1", "stand_id": "", "other_stand_id": "", "reason": "a slip", "none": ""}},
		{RoleTreatable, "stand_id,permission,permission_expires,access,method,months,closed_from,closed_to,closed_for,cost_factor,owner,gate\n2026Q2-0001,Given,2026-12-31,on foot,cut stem,9-2,03-15,09-15,nesting birds,1.5,M. Roe,1234\n",
			map[string]string{"stand_id": "2026Q2-0001", "permission": "given", "permission_expires": "2026-12-31", "access": "on foot", "months": "9-2", "closed_from": "03-15", "closed_to": "09-15", "closed_for": "nesting birds", "cost_factor": "1.5", "owner": "M. Roe", "gate": "1234", "parcel": "", "none": ""}},
		{RoleTreatable, "parcel,permission,permission_expires,cost_factor\n12-7,asked,,\n", map[string]string{"parcel": "12-7", "permission": "asked", "permission_expires": "", "cost_factor": ""}},
		{RoleValues, "value_id,name,weight,decimalLongitude,decimalLatitude\nv1,Spring,2,10.5,20.25\n", map[string]string{"value_id": "v1", "name": "Spring", "weight": "2", "decimalLongitude": "10.5", "decimalLatitude": "20.25", "none": ""}},
		{RoleBarriers, "barrier_id,kind,barrier_pass,decimalLongitude,decimalLatitude\nb1,weir,0.5,10.5,20.25\n", map[string]string{"barrier_id": "b1", "kind": "weir", "barrier_pass": "0.5", "decimalLongitude": "10.5", "decimalLatitude": "20.25", "none": ""}},
	} {
		r, _ := RoleOf(c.role)
		var held cupboard
		taken, err := r.Read(Given{Sources: []format.Source{testkit.Source("f.csv", strings.NewReader(c.table))}, Options: func(format.Source) (Options, error) { return DefaultOptions(), nil }})
		if err != nil {
			t.Fatalf("%s: %v", c.role, err)
		}
		if taken.Put(&held); !slices.Equal(taken.Accepted, []int{1}) {
			t.Errorf("%s: %d accepted, %v", c.role, taken.Accepted, taken.Findings)
		}
		for field, want := range c.want {
			var got []string
			r.Values(&held, "f.csv", field, func(value string) { got = append(got, value) })
			if !slices.Equal(got, []string{want}) {
				t.Errorf("%s, %s: %q, want %q", c.role, field, got, want)
			}
		}
		r.Values(&held, "g.csv", "date", func(string) { t.Errorf("%s: a value of another file", c.role) })
	}
}

// TestRecordsAfterTheQuarter: work and corrections after the end of the quarter are read and counted,
// and left out; one of its last day is in.
func TestRecordsAfterTheQuarter(t *testing.T) {
	quarter, err := survey.ParseQuarter("2026Q3")
	if err != nil {
		t.Fatal(err)
	}
	for role, table := range map[string]string{
		RoleTreatments:  "date,stand_id,method\n2026-09-30,a,cut\n2026-10-01,b,cut\n",
		RoleCorrections: "date,correction,occurrenceID\n2026-09-30,look-alike,a\n2026-10-01,look-alike,b\n",
	} {
		r, _ := RoleOf(role)
		var held cupboard
		taken, err := r.Read(Given{Sources: []format.Source{testkit.Source("f.csv", strings.NewReader(table))}, Options: func(format.Source) (Options, error) { return DefaultOptions(), nil }, Against: Against{Quarter: quarter}})
		if err != nil {
			t.Fatal(err)
		}
		if taken.Put(&held); !slices.Equal(taken.Accepted, []int{2}) || len(held.treatments)+len(held.corrections) != 1 {
			t.Errorf("%s: %v accepted, %+v", role, taken.Accepted, held)
		}
	}
	none := Against{}
	some := Against{Quarter: quarter, First: survey.Day(0)}
	if !none.Begin().IsZero() || !none.FirstDay().IsZero() || !none.End().IsZero() || some.Begin().Format("2006-01-02") != "2026-07-01" || some.End().Format("2006-01-02") != "2026-09-30" {
		t.Errorf("%v to %v, %v to %v", none.Begin(), none.End(), some.Begin(), some.End())
	}
}

// TestPointsInTurn: files that are read in turn give the records that files read whole give, with the
// columns of all in one order, and finds and absences by the words of a whole column.
func TestPointsInTurn(t *testing.T) {
	texts := []string{
		"occurrenceID,eventDate,decimalLongitude,decimalLatitude,patch_area_m2,zeal,Plant found,access\na,2026-07-01,-117.20001,34.10001,100,much,yes,north\nb,2026-07-02,-117.20101,34.10101,50,,no,\nc,2026-07-02,-117.20201,34.10201,50,x,yes,south\n",
		"occurrenceID,eventDate,decimalLongitude,decimalLatitude,patch_area_m2,colour,access\nd,2026-07-03,-117.20301,34.10301,70,green,east\n",
	}
	var whole []Points
	var turns []PointsInTurn
	var given [][]survey.Record
	for i, text := range texts {
		name := string(rune('a'+i)) + ".csv"
		p, _, err := ReadPoints(testkit.Source(name, strings.NewReader(text)), testOptions())
		if err != nil {
			t.Fatal(err)
		}
		whole = append(whole, p)
		var records []survey.Record
		turn, _, err := ReadPointsInTurn(testkit.Source(name, strings.NewReader(text)), testOptions(), func(block []survey.Record) error {
			records = append(records, block...)
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		turns, given = append(turns, turn), append(given, records)
	}
	for _, n := range []int{1, 2} {
		want, extra := MergePoints(whole[:n])
		var got []survey.Record
		for i, f := range FinishersOf(turns[:n]) {
			for at := range given[i] {
				r := given[i][at]
				f.Finish(&r, at)
				got = append(got, r)
			}
		}
		if len(got) != []int{3, 4}[n-1] || got[1].Detected || !got[0].Detected || len(extra) < 2 {
			t.Errorf("%d files: %d records, columns %q", n, len(got), extra)
		}
		if diff := cmp.Diff(want, got, cmpopts.EquateNaNs(), equateNaN[geo.Meters](), cmpopts.IgnoreUnexported(survey.Record{})); diff != "" {
			t.Errorf("%d files (-whole +in turn):\n%s", n, diff)
		}
	}
	_, _, err := ReadPointsInTurn(testkit.Source("a.csv", strings.NewReader(texts[0])), testOptions(), func([]survey.Record) error { return errTaken })
	if err != errTaken {
		t.Errorf("an error of give: %v", err)
	}
	if _, _, err = ReadPointsInTurn(testkit.Source("a.csv", strings.NewReader("x\n1\n")), testOptions(), func([]survey.Record) error { return nil }); err == nil {
		t.Error("a file without positions is given")
	}
}

var errTaken = &format.UnusableError{Found: "taken"}

// TestFieldsByName: what settings and check ask of a field by its name, in any case of letters.
func TestFieldsByName(t *testing.T) {
	for field, want := range map[string]string{"patch_area_m2": "m2", "PATCH_AREA_M2": "m2", "temperature_c": "c", "wind_mps": "m/s", "hours": "h", "barrier_pass": "share", "occurrenceID": "", "eventDate": "", "nothing": ""} {
		if unit, has := HasUnit(field); unit != want || has != (want != "") {
			t.Errorf("%s is in %q, %v", field, unit, has)
		}
	}
	for _, c := range []struct {
		field, name string
		want        bool
	}{{"patch_area_m2", "Area (ac)", true}, {"patch_area_m2", "Area", false}, {"Hours", "minutes", true}, {"nothing", "Area (ac)", false}} {
		if got := UnitSaid(c.field, c.name); got != c.want {
			t.Errorf("%s says a unit of %s: %v", c.name, c.field, got)
		}
	}
	for _, c := range []struct{ field, word, want string }{{"permission", "Granted", "given"}, {"PERMISSION", "denied", "refused"}, {"permission", "pending", "asked"}, {"permission", "perhaps", ""}, {"nothing", "yes", ""}, {"occurrenceStatus", "nope", ""}} {
		if got := ProposedWord(c.field, c.word); got != c.want {
			t.Errorf("%s of %s is proposed as %q", c.word, c.field, got)
		}
	}
	if factor, err := UnitFactor("Patch_Area_M2", "ha"); factor != 10_000 || err != nil {
		t.Errorf("%v, %v", factor, err)
	}
	if _, err := UnitFactor("nothing", "ha"); err == nil || err.Error() != "nothing has no unit" {
		t.Error(err)
	}
	for v, want := range map[float64]string{0: "", 1.5: "1.5", math.NaN(): ""} {
		if got := nonzeroText(v); got != want {
			t.Errorf("%v is %q", v, got)
		}
	}
	for v, want := range map[float64]string{10: "10", -117.25: "-117.25", 0: "0", 0.00000004: "0", 1.123456789: "1.1234568", 100: "100"} {
		if got := DegreesText(v); got != want {
			t.Errorf("%v is %q, want %q", v, got, want)
		}
	}
}
