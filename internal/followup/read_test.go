package followup

import (
	"strings"
	"testing"

	"driftreach/internal/survey"
)

// FuzzRead: whatever the bytes, no panic, and what is taken is what a batch can
// have written: stands once each, with the days their states ask for, so that the
// next quarter's rules hold of them. The deliverable itself is read back, and
// damaged, beside its writer.
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
		if next, _, _ := Plan(site); len(next) != len(rows) {
			t.Fatalf("%d rows became %d", len(rows), len(next))
		}
	})
}
