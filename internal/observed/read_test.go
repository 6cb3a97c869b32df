package observed

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"driftreach/internal/format"
	"driftreach/internal/host"
	"driftreach/internal/intake"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// anywhere is an open file that can be read at any place, as one on a disk.
type anywhere struct{ *bytes.Reader }

func (anywhere) Close() error { return nil }

// plain is an open file that can only be read on, as one in an archive.
type plain struct{ io.Reader }

func (plain) Close() error { return nil }

var errOpen = errors.New("gone")

// TestWatchedSources: what can be read at any place still can once it is watched, and what cannot does
// not claim to; both tell of the bytes that are read on, hand on what went wrong, and read nothing once
// nobody waits.
func TestWatchedSources(t *testing.T) {
	const text = "twelve bytes"
	for name, open := range map[string]func() (io.ReadCloser, error){
		"at any place": func() (io.ReadCloser, error) { return anywhere{bytes.NewReader([]byte(text))}, nil },
		"on":           func() (io.ReadCloser, error) { return plain{strings.NewReader(text)}, nil },
	} {
		ctx, stop := context.WithCancel(context.Background())
		told := &counting{}
		r := &reader{ctx: ctx, host: host.Host{Progress: told}}
		s := r.watch(format.Source{Name: "a", Size: 12, Layer: "l", Open: open})
		if s.Name != "a" || s.Size != 12 || s.Layer != "l" {
			t.Errorf("%s: %+v", name, s)
		}
		file, err := s.Open()
		if err != nil {
			t.Fatal(err)
		}
		if all, err := io.ReadAll(file); string(all) != text || err != nil || told.bytes != 12 {
			t.Errorf("%s: %q, %v, told of %d bytes", name, all, err, told.bytes)
		}
		at, can := file.(io.ReaderAt)
		if can != (name == "at any place") {
			t.Errorf("%s: can be read at any place: %v", name, can)
		}
		var b [5]byte
		if can {
			if n, err := at.ReadAt(b[:], 7); n != 5 || err != nil || string(b[:]) != "bytes" {
				t.Errorf("%d bytes, %v", n, err)
			}
			if n, err := at.ReadAt(b[:], 10); n != 2 || err != io.EOF {
				t.Errorf("%d bytes at the end, %v", n, err)
			}
		}
		stop()
		if n, err := file.Read(b[:]); n != 0 || !errors.Is(err, context.Canceled) {
			t.Errorf("%s: %d bytes after it was stopped, %v", name, n, err)
		}
		if can {
			if n, err := at.ReadAt(b[:], 0); n != 0 || !errors.Is(err, context.Canceled) {
				t.Errorf("%d bytes after it was stopped, %v", n, err)
			}
		}
		if told.bytes != 12 {
			t.Errorf("%s: told of %d bytes", name, told.bytes)
		}
	}
	r := &reader{ctx: context.Background()}
	if file, err := r.watch(format.Source{Open: func() (io.ReadCloser, error) { return nil, errOpen }}).Open(); file != nil || err != errOpen {
		t.Errorf("%v, %v", file, err)
	}
}

// totals says of each file its role, and the records read, accepted, rejected and set aside.
func totals(q *Quarter) string {
	var out []string
	for _, f := range q.Files {
		out = append(out, fmt.Sprintf("%s %s %d=%d+%d+%d", f.Role, f.Name, f.Read, f.Accepted, f.Rejected, f.SetAside))
	}
	return strings.Join(out, ", ")
}

const (
	somePoints = "occurrenceID,decimalLongitude,decimalLatitude,eventDate,zeal\na,-40,-33,2026-07-01,much\nb,-40,-33.001,2026-01-02,none\nc,x,-33,2026-07-01,\n"
	// of three, one stands on the stream, one 187 m beside it at this latitude, and one nowhere
	someBarriers = "barrier_id,kind,decimalLongitude,decimalLatitude\nb1,weir,-40,-33\nb2,weir,-39.998,-33\nb3,weir,x,-33\n"
	oneBarrier   = "barrier_id,kind,decimalLongitude,decimalLatitude\nb4,dam,-40,-33.005\n"
	oneGround    = "surveyed_id,eventDate,WKT\ng,2026-07-05,\"LINESTRING(-40 -33,-40 -33.001)\"\n"
	oneOfOthers  = "work_id,kind,start_date,end_date,contact,decimalLongitude,decimalLatitude\nw,mowing,2026-10-01,2026-10-09,Roads,-40,-33\n"
)

// TestReadTellsWhatWasGiven: of each role, by hand: its totals; whether it was given, though it holds
// nothing; carried columns and quarters of points; barriers counted again once they stand on streams, and
// as they were read where no streams are given. Other roles keep their totals.
func TestReadTellsWhatWasGiven(t *testing.T) {
	read := func(of map[string][]string) Quarter {
		t.Helper()
		in := Inputs{Quarter: survey.Quarter{Year: 2026, Number: 3}, Of: map[string]Files{}}
		for role, texts := range of {
			var f Files
			for i, text := range texts {
				f.Sources = append(f.Sources, source(fmt.Sprintf("%s%d", role, i+1), text))
			}
			in.Of[role] = f
		}
		q, err := Read(t.Context(), in, settings.Default(), host.Host{Workers: 1})
		if err != nil {
			t.Fatal(err)
		}
		return q
	}
	for _, c := range []struct {
		name                          string
		of                            map[string][]string
		totals                        string
		works, surveyed, work, placed bool
	}{
		{name: "points and streams", of: map[string][]string{intake.RolePoints: {somePoints}, intake.RoleStreams: {brooks}}, totals: "points points1 3=1+1+1, streams streams1 1=1+0+0"},
		{name: "works", of: map[string][]string{intake.RoleWorks: {oneOfOthers}}, totals: "works works1 1=1+0+0", works: true},
		{name: "no works", of: map[string][]string{intake.RoleWorks: {oneOfOthers[:strings.Index(oneOfOthers, "\n")+1]}}, totals: "works works1 0=0+0+0", works: true},
		{name: "surveyed", of: map[string][]string{intake.RoleSurveyed: {oneGround}}, totals: "surveyed surveyed1 1=1+0+0", surveyed: true},
		{name: "treatments", of: map[string][]string{intake.RoleTreatments: {oneWork}}, totals: "treatments treatments1 1=1+0+0", work: true},
		{name: "barriers", of: map[string][]string{intake.RoleBarriers: {someBarriers, oneBarrier}}, totals: "barriers barriers1 3=2+1+0, barriers barriers2 1=1+0+0"},
		{name: "all", of: map[string][]string{intake.RolePoints: {somePoints}, intake.RoleStreams: {brooks}, intake.RoleWorks: {oneOfOthers}, intake.RoleSurveyed: {oneGround}, intake.RoleTreatments: {oneWork}, intake.RoleBarriers: {oneBarrier, someBarriers}},
			totals: "points points1 3=1+1+1, streams streams1 1=1+0+0, works works1 1=1+0+0, surveyed surveyed1 1=1+0+0, treatments treatments1 1=1+0+0, barriers barriers1 1=1+0+0, barriers barriers2 3=1+2+0", works: true, surveyed: true, work: true, placed: true},
	} {
		q := read(c.of)
		if got := totals(&q); got != c.totals {
			t.Errorf("%s: %s, want %s", c.name, got, c.totals)
		}
		if q.WorksGiven != c.works || q.SurveyedGiven != c.surveyed || q.WorkGiven != c.work || q.WorkFirst.String() != "2026-07-01" {
			t.Errorf("%s: works %v, surveyed %v, work %v from %s", c.name, q.WorksGiven, q.SurveyedGiven, q.WorkGiven, q.WorkFirst)
		}
		if len(q.ColumnReports) != len(q.Files) {
			t.Errorf("%s: %d reports of %d files", c.name, len(q.ColumnReports), len(q.Files))
		}
		var places, far []string
		for _, b := range q.Barriers {
			places = append(places, fmt.Sprintf("%s %.0f", b.ID, float64(b.Measure)))
		}
		for _, f := range q.Findings {
			if f.Rule.Code == "barrier-far-from-streams" {
				far = append(far, f.File+" "+f.Record)
			}
		}
		// the stream goes north from 33.01 south: 0.005 and 0.01 degrees are 555 and 1109 m there
		if got := strings.Join(places, ", "); c.placed && (got != "b1 1109, b4 555" || strings.Join(far, ", ") != "barriers2 b2") {
			t.Errorf("%s: %s; far %s", c.name, got, far)
		}
		if points := len(c.of[intake.RolePoints]) > 0; points && (strings.Join(q.ExtraColumns, ",") != "zeal" || fmt.Sprint(q.Dated) != "[{2026Q1 1} {2026Q3 1}]") || !points && q.ExtraColumns != nil {
			t.Errorf("%s: columns %q, dated %v", c.name, q.ExtraColumns, q.Dated)
		}
	}
}

// TestSettleLeavesTheQuarter: a find is set aside because work was done and nothing found later; the
// quarter that was settled keeps its totals. By hand. Without a quarter nothing is compared.
func TestSettleLeavesTheQuarter(t *testing.T) {
	const points = "occurrenceID,decimalLongitude,decimalLatitude,eventDate,occurrenceStatus\na,-40,-33,2026-07-01,detected\nb,-40,-33,2026-08-01,notDetected\nc,-40,-33.005,2026-07-01,detected\n"
	in := Inputs{Quarter: survey.Quarter{Year: 2026, Number: 3}, Of: map[string]Files{intake.RolePoints: {Sources: []format.Source{source("p", points)}}, intake.RoleTreatments: {Sources: []format.Source{source("w", oneWork)}}}}
	q, err := Read(t.Context(), in, settings.Default(), host.Host{})
	if err != nil {
		t.Fatal(err)
	}
	before := totals(&q)
	settled, err := q.Settle(nil, settings.Default())
	if err != nil {
		t.Fatal(err)
	}
	if got := totals(&settled); before != "points p 3=3+0+0, treatments w 1=1+0+0" || got != "points p 3=2+0+1, treatments w 1=1+0+0" || len(settled.Records.Listed) != 2 {
		t.Errorf("%s, before %s", got, before)
	}
	if got := totals(&q); got != before {
		t.Errorf("%s after it was settled, before %s", got, before)
	}
	q.Quarter = survey.Quarter{}
	if same, err := q.Settle(nil, settings.Default()); err != nil || totals(&same) != before || len(same.Records.Listed) != 3 {
		t.Errorf("%s without a quarter, %v", totals(&same), err)
	}
}

// TestFamilies: endings that make a repeated id unique are taken off, all of them, and nothing else.
func TestFamilies(t *testing.T) {
	for id, want := range map[string]string{
		"a": "a", "a~2": "a", "a~2~13": "a", "a9": "a9", "a9~2": "a9", "a~": "a~", "a~~2": "a~", "a~x2": "a~x2", "a~2x": "a~2x", "~2": "", "12": "12", "": "", "a-2": "a-2",
	} {
		if got := family(id); got != want {
			t.Errorf("%q is of %q, want %q", id, got, want)
		}
	}
}

// TestSettleInTurnGoesThroughNothing: where there is no quarter, or no control work, no record is read to
// settle finds against absences.
func TestSettleInTurnGoesThroughNothing(t *testing.T) {
	for name, q := range map[string]Quarter{
		"no quarter": {Actions: make([]treatment.Treatment, 1)}, "no work": {Quarter: survey.Quarter{Year: 2026, Number: 3}}, "neither": {},
	} {
		none := &InTurn{} // has no records to go through
		if err := none.Settle(&q, settings.Default()); err != nil || none.gone != nil {
			t.Errorf("%s: %v, %v", name, err, none.gone)
		}
	}
}

// TestRecordsFarFromStreams: a record that the check against the streams rejects counts as rejected in its
// file; where none is rejected, and where no streams are given, the totals stay. By hand: the second find
// lies on the stream but for the sign of its longitude, and is rejected; the third is near no stream
// however it is read, and is kept.
func TestRecordsFarFromStreams(t *testing.T) {
	const head, near = "occurrenceID,decimalLongitude,decimalLatitude,eventDate\n", "a,-40,-33,2026-07-01\n"
	for _, c := range []struct{ rows, streams, want string }{
		{near, brooks, "points p 1=1+0+0, streams s 1=1+0+0"},
		{near + "b,40,-33,2026-07-01\n", brooks, "points p 2=1+1+0, streams s 1=1+0+0"},
		{near + "c,71,12,2026-07-01\n", brooks, "points p 2=2+0+0, streams s 1=1+0+0"},
		{near + "b,40,-33,2026-07-01\nc,71,12,2026-07-01\n", "", "points p 3=3+0+0"},
	} {
		in := Inputs{Quarter: survey.Quarter{Year: 2026, Number: 3}, Of: map[string]Files{intake.RolePoints: {Sources: []format.Source{source("p", head+c.rows)}}}}
		if c.streams != "" {
			in.Of[intake.RoleStreams] = Files{Sources: []format.Source{source("s", c.streams)}}
		}
		q, err := Read(t.Context(), in, settings.Default(), host.Host{})
		if err != nil {
			t.Fatal(err)
		}
		if got := totals(&q); got != c.want {
			t.Errorf("%q: %s, want %s", c.rows, got, c.want)
		}
	}
}
