package restated

import (
	"fmt"
	"strings"
	"testing"

	"driftreach/internal/earlier"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

func quarter(year int16, number int8) survey.Quarter {
	return survey.Quarter{Year: year, Number: number}
}

// changed is a corrector whose batch before has these changes: a stand A in three quarters, twice in
// the second of them, out of order; a stand B in one; and one of A that was taken back before.
func changed() *corrector {
	row := func(id string, q survey.Quarter, name string) result.LookChange {
		return result.LookChange{StandID: id, Quarter: q, Scope: result.WaterBody, Name: name}
	}
	gone := row("A", quarter(2026, 1), "gone")
	gone.TakenBack = quarter(2026, 2)
	return &corrector{
		in: observed.Quarter{Quarter: quarter(2026, 3)},
		before: &earlier.Batch{LookChanges: []result.LookChange{
			row("A", quarter(2025, 4), "two"), row("B", quarter(2026, 1), "other"), row("A", quarter(2025, 2), "one"), gone,
			row("A", quarter(2025, 4), "again"), row("A", quarter(2025, 3), "between"),
		}},
	}
}

// said lists the changes as stand, name, shared and the quarter in which they were taken back.
func said(c *corrector) string {
	var out []string
	for i := range c.before.LookChanges {
		l := &c.before.LookChanges[i]
		text := l.StandID + " " + l.Name
		if l.Shared {
			text += " shared"
		}
		if !l.TakenBack.IsZero() {
			text += " back in " + l.TakenBack.String()
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

// By hand: where a stand is another one, all its changes that count go to that stand, and none stays;
// a later correction of the new stand finds them. What was taken back before stays where it was.
func TestChangesGoToAnotherStand(t *testing.T) {
	c := changed()
	c.changesGoTo("A", "B", false)
	if got, want := said(c), "B two; B other; B one; A gone back in 2026Q2; B again; B between"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if of := fmt.Sprint(c.changesOf("A"), c.changesOf("B")); of != "[] [1 0 2 4 5]" {
		t.Errorf("found again by their stands: %s", of)
	}
	c.changesGoTo("B", "C", false)
	if of := fmt.Sprint(c.changesOf("B"), len(c.changesOf("C"))); of != "[] 5" {
		t.Errorf("moved twice: %s", of)
	}
}

// By hand: where a part becomes a stand of its own it is not known whose a change is. The first stand
// keeps it, the other has it too, and both say that they share it.
func TestChangesAreShared(t *testing.T) {
	c := changed()
	c.changesGoTo("A", "N", true)
	want := "A two shared; B other; A one shared; A gone back in 2026Q2; A again shared; A between shared; N two shared; N one shared; N again shared; N between shared"
	if got := said(c); got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if of := fmt.Sprint(c.changesOf("A"), c.changesOf("N")); of != "[0 2 4 5] [6 7 8 9]" {
		t.Errorf("found again by their stands: %s", of)
	}
}

// By hand: what a stand added when it was reported as not detected is what it added in the last quarter
// in which it added anything, in both rows of that quarter. Taken back again, the quarter before that
// is the last.
func TestLastChangeIsTakenBack(t *testing.T) {
	c := changed()
	c.takeBackLast("A")
	if got, want := said(c), "A two back in 2026Q3; B other; A one; A gone back in 2026Q2; A again back in 2026Q3; A between"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	c.takeBackLast("A")
	if got := said(c); !strings.HasSuffix(got, "A between back in 2026Q3") || !strings.Contains(got, "A one;") {
		t.Errorf("the quarter before that: %s", got)
	}
	c.takeBackLast("nobody")
	c.takeBackLast("B")
	if got := said(c); !strings.Contains(got, "B other back in 2026Q3") || !strings.Contains(got, "A one;") {
		t.Errorf("another stand: %s", got)
	}
}

// A withdrawn stand takes all its changes back, in the quarter of the correction. Of a stand that loses
// a part the rest still counts, shared, beside a trace that is taken back.
func TestChangesAreTakenBack(t *testing.T) {
	c := changed()
	c.takeBack("A", true)
	if got, want := said(c), "A two back in 2026Q3; B other; A one back in 2026Q3; A gone back in 2026Q2; A again back in 2026Q3; A between back in 2026Q3"; got != want {
		t.Errorf("all of it: %s, want %s", got, want)
	}
	c = changed()
	c.takeBack("B", false)
	if got, want := said(c), "A two; B other shared; A one; A gone back in 2026Q2; A again; A between; B other shared back in 2026Q3"; got != want {
		t.Errorf("a part: %s, want %s", got, want)
	}
	if of := fmt.Sprint(c.changesOf("B")); of != "[1]" {
		t.Errorf("what still counts: %s", of)
	}
}
