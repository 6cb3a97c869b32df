package observed

import (
	"bytes"
	"context"
	"errors"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/internal/host"
	"driftreach/internal/intake"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
	"driftreach/internal/treatment"
)

func quarter(year int16, number int8) survey.Quarter {
	return survey.Quarter{Year: year, Number: number}
}

// TestNoEvidenceInWords: what is said where nothing is of the quarter, and the remedy, by hand: no
// record at all, all rejected, some of other quarters, of which the last with the most is named, and
// more than eight quarters, of which the earlier ones are counted.
func TestNoEvidenceInWords(t *testing.T) {
	const see = "`driftreach check --findings FILE` lists every record"
	q := quarter(2026, 3)
	var many []survey.Dated
	for at := quarter(2023, 3); at != q; at = at.Next() {
		many = append(many, survey.Dated{Quarter: at, Records: 2})
	}
	for _, c := range []struct {
		err        NoEvidenceError
		says, hint string
	}{
		{NoEvidenceError{Quarter: q}, "no record of 2026Q3: the points hold none at all, and no ground is given as surveyed in it", "where the quarter was surveyed and nothing found, name the ground with --surveyed; else give the points of the quarter"},
		{NoEvidenceError{Quarter: q, Read: 7, Rejected: 7}, "no record of 2026Q3 can be used: all 7 were rejected", see},
		{NoEvidenceError{Quarter: q, Read: 7, Rejected: 2, Dated: []survey.Dated{{Quarter: quarter(2026, 1), Records: 3}, {Quarter: quarter(2026, 2), Records: 2}}},
			"no record of 2026Q3: 7 were read, 2 of them rejected; they are of 2026Q1 (3), 2026Q2 (2)", "give the points of 2026Q3, or run these with --quarter 2026Q1; " + see},
		{NoEvidenceError{Quarter: q, Read: 6, Dated: []survey.Dated{{Quarter: quarter(2026, 1), Records: 3}, {Quarter: quarter(2026, 2), Records: 3}}},
			"no record of 2026Q3: 6 were read, 0 of them rejected; they are of 2026Q1 (3), 2026Q2 (3)", "give the points of 2026Q3, or run these with --quarter 2026Q2; " + see},
		{NoEvidenceError{Quarter: q, Read: 4, Rejected: 4, Dated: []survey.Dated{{Quarter: q, Records: 4}}}, "no record of 2026Q3 can be used: all 4 were rejected; they are of 2026Q3 (4)", see},
		{NoEvidenceError{Quarter: q, Read: 4, Dated: []survey.Dated{{Records: 9}, {Quarter: quarter(2026, 2), Records: 1}}}, "no record of 2026Q3: 4 were read, 0 of them rejected; they are of no date (9), 2026Q2 (1)", "give the points of 2026Q3, or run these with --quarter 2026Q2; " + see},
		{NoEvidenceError{Quarter: q, Read: 24, Dated: many}, "no record of 2026Q3: 24 were read, 0 of them rejected; they are of 4 earlier quarters, 2024Q3 (2), 2024Q4 (2), 2025Q1 (2), 2025Q2 (2), 2025Q3 (2), 2025Q4 (2), 2026Q1 (2), 2026Q2 (2)", "give the points of 2026Q3, or run these with --quarter 2026Q2; " + see},
	} {
		if got := c.err.Error(); got != c.says {
			t.Errorf("%q, want %q", got, c.says)
		}
		if got := c.err.Hint(); got != c.hint {
			t.Errorf("%q, want %q", got, c.hint)
		}
	}
}

// TestWorkNearAFind: whether work was done near a find between two days, both of which count, by hand:
// at a place 19 m off but not 21, in a drawn area, on a stand that work names.
func TestWorkNearAFind(t *testing.T) {
	day := func(d int) time.Time { return time.Date(2026, 8, d, 0, 0, 0, 0, time.UTC) }
	perLon, _ := earth.LocalScale(0)
	east := func(m float64) orb.Point { return orb.Point{10 + m/perLon, 0} }
	box := func(m float64) orb.MultiPolygon {
		a, b := east(m), east(m+30)
		return orb.MultiPolygon{{{{a[0], -0.0001}, {b[0], -0.0001}, {b[0], 0.0001}, {a[0], 0.0001}, {a[0], -0.0001}}}}
	}
	known := []lineage.Known{{Stand: stand.Stand{ID: "s", Footprint: stand.Pack(box(15)), Center: east(30)}}}
	at := func(d int, change func(*treatment.Treatment)) []treatment.Treatment {
		a := treatment.Treatment{Date: day(d)}
		change(&a)
		return []treatment.Treatment{a}
	}
	placed := func(m float64) func(*treatment.Treatment) {
		return func(a *treatment.Treatment) { a.Placed, a.Position = true, east(m) }
	}
	for _, c := range []struct {
		name string
		work []treatment.Treatment
		want bool
	}{
		{"none", nil, false}, {"19 m off", at(5, placed(19)), true}, {"west of it", at(5, placed(-19)), true}, {"21 m off", at(5, placed(21)), false},
		{"on the first day", at(2, placed(0)), true}, {"on the last", at(9, placed(0)), true}, {"before", at(1, placed(0)), false}, {"after", at(10, placed(0)), false},
		{"without a place", at(5, func(*treatment.Treatment) {}), false},
		{"drawn beside it", at(5, func(a *treatment.Treatment) { a.Ground, a.Position = box(15), east(30) }), true},
		{"drawn too far", at(5, func(a *treatment.Treatment) { a.Ground, a.Position = box(21), east(36) }), false},
		{"drawn, too early", at(1, func(a *treatment.Treatment) { a.Ground, a.Position = box(15), east(30) }), false},
		{"on the stand", at(5, func(a *treatment.Treatment) { a.StandID = "s" }), true},
		{"on the stand, too late", at(10, func(a *treatment.Treatment) { a.StandID = "s" }), false},
		{"on another stand", at(5, func(a *treatment.Treatment) { a.StandID = "other" }), false},
		{"one of two", append(at(1, placed(0)), at(5, placed(10))...), true},
	} {
		w := newWorkplaces(Quarter{Actions: c.work}, known, 20)
		if got := w.worked(&survey.Record{Position: east(0)}, survey.DayOf(day(2)), survey.DayOf(day(9))); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// counting counts the bytes it is told of.
type counting struct {
	host.Progress
	bytes int64
}

func (c *counting) Bytes(n int64) { c.bytes += n }

// TestWatchedFiles: a file that is read tells of its bytes, and stops once nobody waits.
func TestWatchedFiles(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	told := &counting{}
	w := &watched{ReadCloser: io.NopCloser(strings.NewReader("twelve bytes")), ctx: ctx, progress: told}
	var first [5]byte
	if n, err := w.Read(first[:]); n != 5 || err != nil || told.bytes != 5 || string(first[:]) != "twelv" {
		t.Errorf("%d bytes, %v, told of %d", n, err, told.bytes)
	}
	at := &watchedAt{*w, bytes.NewReader([]byte("twelve bytes"))}
	if n, err := at.ReadAt(first[:], 7); n != 5 || err != nil || string(first[:]) != "bytes" || told.bytes != 5 {
		t.Errorf("%d bytes at the end, %v, told of %d", n, err, told.bytes)
	}
	stop()
	if _, err := w.Read(first[:]); !errors.Is(err, context.Canceled) || told.bytes != 5 {
		t.Errorf("after it was stopped: %v, told of %d", err, told.bytes)
	}
	if _, err := at.ReadAt(first[:], 0); !errors.Is(err, context.Canceled) {
		t.Errorf("after it was stopped: %v", err)
	}
}

// TestEvidence: what is evidence of the quarter, by hand: a dated record; records without a date where
// none was set aside as of another quarter; surveyed ground where no record was read. Records that were
// read and not taken are counted from the files of points alone.
func TestEvidence(t *testing.T) {
	dated, undated := survey.Record{Begin: survey.DayOf(time.Date(2026, 8, 1, 0, 0, 0, 0, time.UTC))}, survey.Record{}
	points := func(read, rejected, aside int) []mapfile.File {
		return []mapfile.File{{Role: intake.RolePoints, Read: read, Rejected: rejected, SetAside: aside}, {Role: intake.RoleStreams, Read: 99, Rejected: 99, SetAside: 99}}
	}
	reports := make([]intake.File, 2)
	for _, c := range []struct {
		name string
		in   Quarter
		read int // in the error; -1 for no error
	}{
		{"a dated record", Quarter{Records: survey.Records{Listed: []survey.Record{undated, dated}}, Files: points(9, 7, 5)}, -1},
		{"undated ones, none set aside", Quarter{Records: survey.Records{Listed: []survey.Record{undated}}, Files: points(9, 7, 0)}, -1},
		{"undated ones, others set aside", Quarter{Records: survey.Records{Listed: []survey.Record{undated}}, Files: points(9, 2, 5)}, 9},
		{"nothing", Quarter{Files: points(0, 0, 0)}, 0}, {"all rejected", Quarter{Files: points(9, 9, 0)}, 9},
		{"surveyed ground alone", Quarter{Files: points(0, 0, 0), Surveyed: make([]surveyed.Ground, 1)}, -1},
		{"surveyed ground and records of another quarter", Quarter{Files: points(9, 0, 9), Surveyed: make([]surveyed.Ground, 1)}, 9},
	} {
		c.in.ColumnReports = reports
		err := c.in.Evidence()
		var none *NoEvidenceError
		if (err == nil) != (c.read < 0) || err != nil && (!errors.As(err, &none) || none.Read != c.read || none.Rejected != c.in.Files[0].Rejected) {
			t.Errorf("%s: %+v", c.name, err)
		}
	}
}
