package report

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/internal/crew"
	"driftreach/internal/followup"
	"driftreach/internal/intake"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/verify/validate"
)

// goingOut returns a run with a number of stands to treat and one to look at, with hostile texts.
func goingOut(stands int) *result.Run {
	run := invented(1, stands, hostile)
	run.Crew, run.FollowUp = crew.DefaultSettings(), followup.DefaultSettings()
	run.Visits = nil
	for i := range run.Stands {
		at := run.Stands[i].Center
		run.Visits = append(run.Visits, result.Visit{Stand: int32(i), Row: &followup.Row{
			StandID: run.Stands[i].ID, Present: true, Order: i + 1, Place: followup.Place{Position: at, WaterBody: hostile[i%len(hostile)], Parcel: hostile[(i+1)%len(hostile)]},
		}})
	}
	run.Visits = append(run.Visits, result.Visit{Stand: -1, Row: &followup.Row{
		StandID: "gone", State: followup.Watch, Due: run.Quarter.End(), Place: followup.Place{Position: orb.Point{-118.25, -34.05}},
	}})
	run.ExtraColumns = []string{"Gate", "owner"}
	for i := range run.Stands {
		run.Stands[i].Members = []int32{int32(len(run.Records.Listed))}
		run.Records.Listed = append(run.Records.Listed, survey.Record{
			ID: fmt.Sprint("told ", i), Position: run.Stands[i].Center, Detected: true, Notes: survey.Notes{Extra: []string{hostile[i%len(hostile)], "N. N."}}.Pack(),
		})
	}
	return run
}

func crewHTML(t testing.TB, run *result.Run) string {
	t.Helper()
	var b bytes.Buffer
	if err := WriteCrew(&b, run); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// For any texts in the input the sheets are well formed, have no script, load nothing from outside,
// and are the same each time.
func TestCrewSheetsAreSafe(t *testing.T) {
	text := crewHTML(t, goingOut(12))
	if r := validate.Markup([]byte(text)); !r.OK() {
		t.Error(r.Problems)
	}
	for _, bad := range []string{"<script", "onload=\"", "http-equiv", "src=", "url(", "@import", "<b>", "\u202e"} {
		if strings.Contains(text, bad) {
			t.Errorf("the sheets hold %q", bad)
		}
	}
	for _, link := range regexp.MustCompile(`https?://[^"' ]*`).FindAllString(text, -1) {
		if link != "http://www.w3.org/1999/xhtml" {
			t.Errorf("the sheets name %s", link)
		}
	}
	if text != crewHTML(t, goingOut(12)) {
		t.Error("two files of one run differ")
	}
	if r := validate.Markup([]byte(crewHTML(t, &result.Run{Quarter: goingOut(1).Quarter, Crew: crew.DefaultSettings()}))); !r.OK() {
		t.Error("of an empty run:", r.Problems)
	}
}

var blankName = regexp.MustCompile(`<code>([^<]*)</code></dt>`)

// The blanks of a stop to treat are the columns of --treatments in the role's list, except the
// position, which is printed above them, and the id, which only names the row.
func TestCrewBlanksAreColumnsOfTreatments(t *testing.T) {
	text := crewHTML(t, goingOut(1))
	sheets := strings.Split(text, `<section class="stop"`)
	if len(sheets) != 3 {
		t.Fatalf("%d sheets, want 2", len(sheets)-1)
	}
	for k, name := range []string{intake.RoleTreatments, intake.RolePoints} {
		role, _ := intake.RoleOf(name)
		want := slices.DeleteFunc(role.Fields(), func(f string) bool {
			return f == "decimalLongitude" || f == "decimalLatitude" || f == role.Passing
		})
		var got []string
		for _, m := range blankName.FindAllStringSubmatch(sheets[k+1], -1) {
			got = append(got, m[1])
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("sheet %d: %s", k+1, d)
		}
	}
}

// A sheet states what is known, and has an empty line for what is not; by hand.
func TestCrewSheetTellsWhatIsKnown(t *testing.T) {
	run := goingOut(1)
	sheet := strings.Split(crewHTML(t, run), `<section class="stop"`)[1]
	for _, name := range []string{"Permission", "In an emergency meet", "In an emergency call", "Cane is dried", "Limits"} {
		if !strings.Contains(sheet, "<dt>"+name+`</dt><dd class="fill">`) {
			t.Errorf("%s is no line to fill in", name)
		}
	}
	if !strings.Contains(sheet, "<dt>Owner</dt><dd><bdi>N. N.</bdi></dd>") {
		t.Error("the owner is not told")
	}
	run.Crew.MeetingPlace, run.Crew.Drying = "the ford", "the upper yard"
	sheet = strings.Split(crewHTML(t, run), `<section class="stop"`)[2]
	for _, want := range []string{
		"<dt>In an emergency meet</dt><dd><bdi>the ford</bdi></dd>", "<dt>Cane is dried</dt><dd><bdi>the upper yard</bdi></dd>",
		"Stop 2: gone, look again", "<dd>-34.050000, -118.250000</dd>", "<dd>34° 03.000′ S, 118° 15.000′ W</dd>",
		// PROJ 9.1: cs2cs EPSG:4326 EPSG:32711
		"<dd>zone 11H (south of the equator) 384629 E 6231595 N</dd>",
	} {
		if !strings.Contains(sheet, want) {
			t.Errorf("the sheet has no %s", want)
		}
	}
}

// A stop due before the quarter's last day is marked overdue in the list and on its sheet; a stop
// due on that day is not.
func TestCrewTellsWhatIsOverdue(t *testing.T) {
	run := goingOut(1)
	last := &run.Visits[len(run.Visits)-1]
	text := crewHTML(t, run)
	if due := "; by " + last.Due.Format("2006-01-02") + ";"; !strings.Contains(text, due) || strings.Contains(text, "overdue") {
		t.Errorf("due on the last day: no %q, or overdue", due)
	}
	last.Due = last.Due.AddDate(0, 0, -1)
	text = crewHTML(t, run)
	since := last.Due.Format("2006-01-02")
	if !strings.Contains(text, "; overdue since "+since+";") || !strings.Contains(text, "<bdi>"+since+", overdue</bdi>") {
		t.Errorf("due on %s, and not called overdue", since)
	}
	if by := "by " + since; strings.Contains(text, by) || !strings.Contains(text, ", overdue since "+since+":") {
		t.Errorf("what to do names the day that has passed as one to come: %q", by)
	}
}

// By hand: 59.9996 minutes round up to the next degree.
func TestMinutes(t *testing.T) {
	for angle, want := range map[float64]string{0: "0° 00.000′ E", 34.05: "34° 03.000′ E", -118.2575: "118° 15.450′ W", 33.999_999: "34° 00.000′ E", 7.000_01: "7° 00.001′ E"} {
		if got := minutes(angle, 'E', 'W'); got != want {
			t.Errorf("%v is %s, want %s", angle, got, want)
		}
	}
}

// For any number of stands the number of sheets is at most the set one, and the sheets say so.
func TestCrewSheetsAreBounded(t *testing.T) {
	run := goingOut(6000)
	run.Crew.MostStops = 5
	text := crewHTML(t, run)
	if n := strings.Count(text, `<section class="stop"`); n != 5 || CrewSheets(run) != 5 {
		t.Errorf("%d sheets, %d told, want 5", n, CrewSheets(run))
	}
	if want := fmt.Sprintf("The first 5 of %s,", plural(6001, "stop")); !strings.Contains(text, want) {
		t.Errorf("the sheets do not say %q", want)
	}
}

// Each map draws the water around its stop and nothing from elsewhere.
func TestCrewMapsShowTheirWater(t *testing.T) {
	for k, sheet := range strings.Split(crewHTML(t, goingOut(3)), `<section class="stop"`)[1:] {
		if got, want := strings.Contains(sheet, `class="water`), k < 3; got != want { // the last stop is far from the line
			t.Errorf("map %d draws water: %v, want %v", k+1, got, want)
		}
	}
}
