package followup

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"driftreach/internal/field"
	"driftreach/internal/survey"
)

// FuzzRead: any bytes: no panic, and whatever is accepted could have been written by a batch: each
// stand once, with the days its state needs, so that the next quarter's rules apply. The
// deliverable itself is read back, and damaged, beside its writer.
func FuzzRead(f *testing.F) {
	q := survey.Quarter{Year: 2026, Number: 3}
	header := strings.Join(Columns(), ",") + "\r\n"
	f.Add(header + "S,2026Q3,true,found,to_treat,,untreated,2026-07-01,2026-07-01,,0,,,,,0,,,,,,1,2\r\n")
	f.Add(header + "S,2026Q3,false,not_found,watch,2027-07-01,treated,2026-01-01,2026-07-01,2026-02-01,1,m,c,2026-07-01,2026-07-01,1,A; B,p,s,w,1.5,1,2\r\n")
	f.Add(header + "\"'=S\",2026Q3,false,nobody_looked,released,,treated,,,,0,,,2020-01-01,2026-07-01,5,,,,,,-180,90\r\n")
	f.Add("stand_id\r\n\"")
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := Read(strings.NewReader(text), q)
		if err != nil {
			return
		}
		seen := map[string]bool{}
		site := Site{Quarter: q.Next(), Before: rows, Since: q.End(), Settings: DefaultSettings()}
		for i := range rows {
			r := &rows[i]
			if r.StandID == "" || seen[r.StandID] {
				t.Fatalf("stand %q again", r.StandID)
			}
			seen[r.StandID] = true
			if (r.State == Watch || r.State == Released) != (r.Clear.Years > 0) || (r.State == Released) && !r.Due.IsZero() {
				t.Fatalf("%+v", r)
			}
			site.Subjects = append(site.Subjects, Subject{ID: r.StandID, Earlier: []string{r.StandID}, Look: Look(i % 3), Day: q.Next().Begin(), Place: r.Place})
		}
		if next, _, _ := Schedule(site); len(next) != len(rows) {
			t.Fatalf("%d rows became %d", len(rows), len(next))
		}
	})
}

// sound is a valid row for each state, by column.
func sound(state string) map[string]string {
	row := map[string]string{
		field.StandID: "S", field.Quarter: "2026Q3", field.OnMap: "true", field.Survey: "found", field.State: state, field.ManagementStatus: "treated",
		field.LastSeen: "2026-07-01", field.LastVisit: "2026-07-02", field.Treatments: "0", field.ClearLooks: "0", field.DecimalLongitude: "-118.5", field.DecimalLatitude: "34.25",
	}
	switch state {
	case "look_again", "treat_again":
		row[field.Due], row[field.Treatments], row[field.LastTreated] = "2027-02-03", "2", "2026-02-03"
	case "watch":
		row[field.Due], row[field.ClearLooks], row[field.ClearSince], row[field.ClearLast] = "2027-07-02", "1", "2026-07-02", "2026-07-02"
	case "released":
		row[field.ClearLooks], row[field.ClearSince], row[field.ClearLast] = "5", "2022-07-02", "2026-07-02"
	}
	return row
}

func table(rows ...map[string]string) string {
	var b strings.Builder
	b.WriteString(strings.Join(Columns(), ",") + "\r\n")
	for _, row := range rows {
		var cells []string
		for _, name := range Columns() {
			cells = append(cells, row[name])
		}
		b.WriteString(strings.Join(cells, ",") + "\r\n")
	}
	return b.String()
}

// Each cell that no batch writes gives an error that names its line and column; a valid row of each
// state gives none.
func TestReadNamesWhatIsWrong(t *testing.T) {
	q := survey.Quarter{Year: 2026, Number: 3}
	for _, state := range stateWords {
		if _, err := Read(strings.NewReader(table(sound(state))), q); err != nil {
			t.Errorf("%s: %v", state, err)
		}
	}
	for _, test := range []struct{ state, column, value, told string }{
		{"watch", field.Quarter, "2026Q2", field.Quarter}, {"to_treat", field.StandID, "", field.StandID}, {"to_treat", field.OnMap, "yes", field.OnMap},
		{"to_treat", field.Survey, "seen", field.Survey}, {"to_treat", field.State, "wait", field.State}, {"to_treat", field.ManagementStatus, "dead", field.ManagementStatus},
		{"to_treat", field.LastSeen, "2026-7-1", field.LastSeen}, {"to_treat", field.LastVisit, "1", field.LastVisit}, {"look_again", field.LastTreated, "2026-02-30", field.LastTreated},
		{"look_again", field.Treatments, "-1", field.Treatments}, {"look_again", field.Treatments, "0", field.Treatments}, {"look_again", field.LastTreated, "", field.Treatments},
		{"to_treat", field.ClearLooks, "1", field.ClearLooks}, {"watch", field.ClearLooks, "0", field.ClearLooks}, {"released", field.ClearLooks, "0", field.ClearLooks}, {"to_treat", field.ClearLooks, "1.5", field.ClearLooks},
		{"look_again", field.Due, "", field.Due}, {"treat_again", field.Due, "", field.Due}, {"watch", field.Due, "", field.Due},
		{"released", field.Due, "2027-01-01", field.Due}, {"to_treat", field.Due, "soon", field.Due},
		{"watch", field.ClearSince, "", field.ClearLast}, {"watch", field.ClearLast, "2026-07-01", field.ClearLast}, {"released", field.ClearSince, "no", field.ClearSince},
		{"to_treat", field.RiverKm, "-0.5", field.RiverKm}, {"to_treat", field.RiverKm, "Inf", field.RiverKm}, {"to_treat", field.RiverKm, "NaN", field.RiverKm}, {"to_treat", field.RiverKm, "far", field.RiverKm},
		{"to_treat", field.DecimalLongitude, "180.01", field.DecimalLongitude}, {"to_treat", field.DecimalLongitude, "", field.DecimalLongitude}, {"to_treat", field.DecimalLatitude, "-90.01", field.DecimalLatitude}, {"to_treat", field.DecimalLatitude, "NaN", field.DecimalLatitude},
	} {
		first, bad := sound(test.state), sound(test.state)
		first[field.StandID] = "R"
		bad[test.column] = test.value
		_, err := Read(strings.NewReader(table(first, bad)), q)
		if err == nil || !strings.HasPrefix(err.Error(), "line 3: "+test.told+": ") {
			t.Errorf("%s, %s %q: %v", test.state, test.column, test.value, err)
		}
	}
	if _, err := Read(strings.NewReader(table(sound("watch"), sound("watch"))), q); err == nil || err.Error() != "line 3: stand S is there twice" {
		t.Errorf("one twice: %v", err)
	}
	if _, err := Read(strings.NewReader(strings.Replace(table(), field.FormulationClass+",", "", 1)), q); err == nil || err.Error() != "there is no column "+field.FormulationClass {
		t.Errorf("a column less: %v", err)
	}
}

// What is written is what is read, each cell in its place.
func TestReadTakesEachCell(t *testing.T) {
	row := sound("look_again")
	row[field.EarlierIDs], row[field.Parcel], row[field.StreamID], row[field.WaterBody], row[field.RiverKm] = "A; B", "p", "l1", "'=Long", "0"
	row[field.Method], row[field.FormulationClass], row[field.OnMap], row[field.Survey] = "cut", "aquatic", "false", "not_found"
	rows, err := Read(strings.NewReader(table(row)), survey.Quarter{Year: 2026, Number: 3})
	if err != nil || len(rows) != 1 {
		t.Fatal(err)
	}
	day := func(month time.Month, d, year int) time.Time { return time.Date(year, month, d, 0, 0, 0, 0, time.UTC) }
	r := rows[0]
	if r.StandID != "S" || r.Present || r.State != LookAgain || r.Look.String() != "not_found" || r.Status != survey.Treated || !r.Due.Equal(day(2, 3, 2027)) ||
		!r.LastSeen.Equal(day(7, 1, 2026)) || !r.LastLook.Equal(day(7, 2, 2026)) || !r.Again.IsZero() {
		t.Errorf("%+v", r)
	}
	if r.Work != (Work{Days: 2, Last: day(2, 3, 2026), Method: "cut", FormulationClass: "aquatic"}) || r.Clear != (Clear{}) || !slices.Equal(r.Earlier, []string{"A", "B"}) {
		t.Errorf("%+v", r)
	}
	if p := r.Place; p.Position != [2]float64{-118.5, 34.25} || p.StreamID != "l1" || p.WaterBody != "=Long" || p.RiverKm != 0 || p.Parcel != "p" {
		t.Errorf("%+v", p)
	}
	row[field.RiverKm] = ""
	rows, err = Read(strings.NewReader(table(row)), survey.Quarter{Year: 2026, Number: 3})
	if err != nil || !math.IsNaN(float64(rows[0].Place.RiverKm)) || rows[0].Place.Position != r.Place.Position {
		t.Errorf("%v, %+v", err, rows)
	}
}

// Numbers are decimal, with any number of digits.
func TestReadCounts(t *testing.T) {
	for text, want := range map[string]int{"2": 2, "9": 9, "10": 10, "12": 12, "100": 100, "2147483647": 1<<31 - 1} {
		row := sound("look_again")
		row[field.Treatments] = text
		rows, err := Read(strings.NewReader(table(row)), survey.Quarter{Year: 2026, Number: 3})
		if err != nil || rows[0].Work.Days != want {
			t.Errorf("%s days of work: %+v, %v", text, rows, err)
		}
		row = sound("released")
		row[field.ClearLooks] = text
		if rows, err = Read(strings.NewReader(table(row)), survey.Quarter{Year: 2026, Number: 3}); err != nil || rows[0].Clear.Years != want {
			t.Errorf("%s clear looks: %+v, %v", text, rows, err)
		}
	}
	for _, text := range []string{"2147483648", "-1", "1a", "0x2", "2.0", " 2", "١"} {
		row := sound("look_again")
		row[field.Treatments] = text
		if rows, err := Read(strings.NewReader(table(row)), survey.Quarter{Year: 2026, Number: 3}); err == nil {
			t.Errorf("%q days of work: %+v", text, rows)
		}
	}
}

// By hand: a stand that is put back is there, and nobody looked. It waits for treatment if it was
// never treated, is looked at a year after the last work or find if it was, and treated within the
// season if it grew again.
func TestPutBack(t *testing.T) {
	q := survey.Quarter{Year: 2026, Number: 3}
	day := func(year int, month time.Month) time.Time { return time.Date(year, month, 5, 0, 0, 0, 0, time.UTC) }
	for name, test := range map[string]struct {
		row   Row
		state State
		due   time.Time
	}{
		"never treated": {Row{LastSeen: day(2025, 4), State: Watch, Due: day(2027, 4)}, ToTreat, time.Time{}},
		"treated":       {Row{LastSeen: day(2025, 4), Work: Work{Days: 1, Last: day(2025, 6)}, Status: survey.Treated}, LookAgain, day(2026, 6)},
		"worked on":     {Row{LastSeen: day(2025, 4), Work: Work{Days: 1, Last: day(2025, 6)}}, LookAgain, day(2026, 6)},
		"dead":          {Row{LastSeen: day(2025, 8), Work: Work{Days: 1, Last: day(2025, 6)}, Status: survey.StandingDead}, LookAgain, day(2026, 8)},
		"dead then":     {Row{LastSeen: day(2025, 6), Work: Work{Days: 1, Last: day(2025, 6)}, Status: survey.StandingDead}, LookAgain, day(2026, 6)},
		"dead by hand":  {Row{Status: survey.StandingDead}, LookAgain, time.Date(2027, 9, 30, 0, 0, 0, 0, time.UTC)},
		"growing again": {Row{LastSeen: day(2025, 4), Status: survey.Resprout}, TreatAgain, time.Date(2026, 11, 29, 0, 0, 0, 0, time.UTC)},
	} {
		test.row.Clear, test.row.LastLook, test.row.Lost = Clear{Years: 1}, day(2026, 8), 3
		got := test.row.PutBack(DefaultSettings(), q)
		if got.State != test.state || !got.Due.Equal(test.due) || !got.Present || got.Look != Nobody || got.Clear != (Clear{}) || !got.LastLook.Equal(test.row.LastSeen) || got.Lost != 0 {
			t.Errorf("%s: %+v, want %v, %v", name, got, test.state, test.due)
		}
	}
}

// The lowest value of each setting is accepted; a lower one gives an error that names the setting.
func TestSettingsBounds(t *testing.T) {
	least := Settings{RevisitMonths: 1, ClearYears: 1, Season: [2]int{1, 12}, RetreatDays: 1}
	if err := least.Validate(); err != nil {
		t.Error(err)
	}
	if err := DefaultSettings().Validate(); err != nil {
		t.Error(err)
	}
	for want, change := range map[string]func(*Settings){
		"revisit months": func(s *Settings) { s.RevisitMonths = 0 }, "clear years": func(s *Settings) { s.ClearYears = 0 }, "retreat days": func(s *Settings) { s.RetreatDays = 0 },
		"season must be two months of 1 to 12, got 0 and 12": func(s *Settings) { s.Season[0] = 0 }, "got 13 and 12": func(s *Settings) { s.Season[0] = 13 },
		"got 1 and 0": func(s *Settings) { s.Season[1] = 0 }, "got 1 and 13": func(s *Settings) { s.Season[1] = 13 }, "join distance": func(s *Settings) { s.JoinDistance = -1 },
		"join distance must be 0 m or more, got NaN": func(s *Settings) { s.JoinDistance = 0; s.JoinDistance /= s.JoinDistance },
	} {
		s := least
		change(&s)
		if err := s.Validate(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", want, err)
		}
	}
}

// First due first; without a day by treatment order, those without a number last;
// then by id.
func TestRowsByDue(t *testing.T) {
	day := func(d int) time.Time { return time.Date(2026, 7, d, 0, 0, 0, 0, time.UTC) }
	want := []Row{
		{StandID: "z", Due: day(1), Order: 9}, {StandID: "a", Due: day(2), Order: 1}, {StandID: "b", Due: day(2), Order: 1}, {StandID: "c", Due: day(2)},
		{StandID: "y", Order: 1}, {StandID: "x", Order: 2}, {StandID: "d"}, {StandID: "e"},
	}
	got := slices.Clone(want)
	slices.Reverse(got)
	slices.SortFunc(got, byDue)
	for i := range want {
		if got[i].StandID != want[i].StandID {
			t.Fatalf("%d: %s, want %s", i, got[i].StandID, want[i].StandID)
		}
	}
}
