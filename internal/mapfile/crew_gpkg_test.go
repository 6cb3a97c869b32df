package mapfile

import (
	"bytes"
	"database/sql"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/intake"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
	"driftreach/internal/verify/validate"
)

// phone returns the file that a crew takes along, and its run.
func phone(t *testing.T) (file string, run *result.Run) {
	t.Helper()
	run = fixture()
	data, err := written(func(b *bytes.Buffer) error { return writeCrewPackage(b, run) })
	if err != nil {
		t.Fatal(err)
	}
	file = filepath.Join(t.TempDir(), phoneFile)
	save(t, file, data)
	return file, run
}

// reread reads a layer as a batch does, without a mapping.
func reread(t *testing.T, file, role string) (intake.Taken, records) {
	t.Helper()
	info, err := os.Stat(file)
	if err != nil {
		t.Fatal(err)
	}
	source := format.Source{Name: file, Layer: role, Size: info.Size(), Open: func() (io.ReadCloser, error) { return os.Open(file) }}
	of, _ := intake.RoleOf(role)
	q := survey.Quarter{Year: 2026, Number: 3}
	options := intake.DefaultOptions()
	options.Quarter = q
	taken, err := of.Read(intake.Given{
		Sources: []format.Source{source}, Against: intake.Against{Quarter: q, JoinDistance: 30, Setback: 30, LargestPatch: 1e6},
		Options: func(format.Source) (intake.Options, error) { return options, nil },
	})
	if err != nil {
		t.Fatal(err)
	}
	var into records
	taken.Put(&into)
	return taken, into
}

type records struct {
	points []survey.Record
	work   []treatment.Treatment
}

// Slots implements intake.Holder.
func (r *records) Slots() []any { return []any{&r.points, &r.work} }

// told returns the codes of the findings.
func told(taken intake.Taken) string {
	var codes []string
	for _, f := range check.Join(taken.Findings...) {
		codes = append(codes, f.Rule.Code)
	}
	return strings.Join(codes, " ")
}

// A form left blank is neither work nor a find.
func TestCrewPackageComesBackBlank(t *testing.T) {
	file, run := phone(t)
	taken, got := reread(t, file, intake.RoleTreatments)
	if len(got.work) > 0 || told(taken) != "treatment-form-blank file-without-records" && told(taken) != "file-without-records treatment-form-blank" {
		t.Errorf("%d rows of work, %s", len(got.work), told(taken))
	}
	if len(result.Listed(result.Stops(run))) == 0 {
		t.Fatal("the fixture has no stop")
	}
	if _, got := reread(t, file, intake.RolePoints); len(got.points) > 0 {
		t.Errorf("%d finds", len(got.points))
	}
}

// filled is what a crew enters at the first stop: every column of --treatments.
var filled = map[string]string{
	"date": "2026-07-15", "method": "cut stump", "formulation_class": "aquatic-labelled", "treated_acres": "0.25", "product": "Reed Away", "registration_number": "R-12",
	"amount": "1.5", "amount_unit": "gal", "applicator": "N. N.", "licence": "L 7", "start_time": "08:30", "end_time": "11:45", "wind_mps": "2.5", "temperature_c": "21",
	"hours": "6", "photo_numbers": "0412-0418",
}

// The layers are filled in with SQLite, as any program on a phone does. They are read back as
// --treatments and --points: every column has what was entered, the place is that of the stop, and
// the only finding is that the other stops were left blank.
func TestCrewPackageComesBackFilled(t *testing.T) {
	file, run := phone(t)
	db, err := sql.Open("sqlite", file)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var sets []string
	var values []any
	for column, value := range filled {
		sets, values = append(sets, quotedName(column)+" = ?"), append(values, value)
	}
	for _, statement := range []struct {
		sql  string
		with []any
	}{
		{"UPDATE treatments SET " + strings.Join(sets, ", ") + " WHERE fid = 1", values},
		{`INSERT INTO points (geom, eventDate, occurrenceStatus, management_status, patch_area_m2, canopy_cover_percent, recordedBy)
			SELECT geom, '2026-07-16', 'detected', 'resprout', 12.5, 40, 'crew 2' FROM crew_stops WHERE fid = 1`, nil},
		{`INSERT INTO points (geom, eventDate, occurrenceStatus) SELECT geom, '2026-07-16', 'notDetected' FROM crew_stops WHERE fid = 2`, nil},
	} {
		if _, err := db.Exec(statement.sql, statement.with...); err != nil {
			t.Fatal(statement.sql, err)
		}
	}
	db.Close()
	stop := slices.IndexFunc(result.Stops(run), func(s result.Stop) bool { return strings.HasPrefix(run.Task(s), "treat") })
	at := run.Visits[result.Stops(run)[stop].Visit]
	taken, got := reread(t, file, intake.RoleTreatments)
	if len(got.work) != 1 || told(taken) != "treatment-form-blank" {
		t.Fatalf("%d rows of work, %s", len(got.work), told(taken))
	}
	holdWork(t, &got, file, at.StandID)
	if a := got.work[0]; !a.Placed || a.Position != (orb.Point{wrapped(at.Place.Position).lon(), wrapped(at.Place.Position).lat()}) {
		t.Errorf("the work is at %v, the stop at %v", a.Position, at.Place.Position)
	}
	_, got = reread(t, file, intake.RolePoints)
	if len(got.points) != 2 {
		t.Fatalf("%d finds, want 2", len(got.points))
	}
	find := got.points[slices.IndexFunc(got.points, func(r survey.Record) bool { return r.Detected })]
	if find.Status != survey.Resprout || find.PatchArea != 12.5 || find.Cover != 40 || find.RecordedBy() != "crew 2" || find.Begin.String() != "2026-07-16" {
		t.Errorf("the find is %+v", find)
	}
}

// holdWork checks every column of the form against what was entered.
func holdWork(t *testing.T, got *records, file, stand string) {
	t.Helper()
	of, _ := intake.RoleOf(intake.RoleTreatments)
	for _, b := range of.Form() {
		want, entered := filled[b.Name]
		switch b.Name {
		case "treatment_id": // only names the row in findings
			continue
		case "stand_id":
			want, entered = stand, true
		}
		if !entered {
			t.Errorf("nothing was entered in %s", b.Name)
		}
		of.Values(got, file, b.Name, func(value string) {
			if value != want {
				t.Errorf("%s comes back as %q, want %q", b.Name, value, want)
			}
		})
	}
}

// GDAL (reference program, Debian's gdal-bin) shows each constraint as the domain of its column,
// and can write into the forms.
func TestCrewPackageInGDAL(t *testing.T) {
	if _, err := exec.LookPath("ogrinfo"); err != nil {
		t.Skip("ogrinfo is not installed (gdal-bin): the forms are not opened with GDAL")
	}
	file, run := phone(t)
	ask := func(args ...string) string {
		t.Helper()
		out, err := exec.Command("ogrinfo", args...).CombinedOutput()
		if text := string(out); err != nil || strings.Contains(text, "Warning") || strings.Contains(text, "ERROR") {
			t.Fatalf("ogrinfo %v: %v\n%.800s", args, err, text)
		}
		return string(out)
	}
	types := ask("-so", file, "treatments") + ask("-so", file, "points")
	for _, want := range []string{"date: Date", "treated_acres: Real", "wind_mps: Real", "start_time: String", "eventDate: Date", "patch_area_m2: Real", "domain name=method", "domain name=time_of_day", "domain name=occurrencestatus"} {
		if !strings.Contains(types, want) {
			t.Errorf("GDAL does not say %q:\n%s", want, types)
		}
	}
	for domain, want := range map[string][]string{"method": treatment.Methods(), "formulation_class": treatment.FormulationClasses(), "occurrencestatus": survey.OccurrenceWords()} {
		text := ask("-fielddomain", domain, file)
		for _, word := range want {
			if !strings.Contains(text, word+": "+word) {
				t.Errorf("domain %s has no %q:\n%s", domain, word, text)
			}
		}
	}
	if text := ask("-fielddomain", "treated_acres", file); !strings.Contains(text, "10000") || !strings.Contains(text, "(excluded)") {
		t.Errorf("the range of treated_acres is\n%s", text)
	}
	id := run.Visits[result.Stops(run)[0].Visit].StandID
	ask(file, "-sql", `UPDATE treatments SET "date" = '2026-07-15', method = 'hand pull', treated_acres = 0.5 WHERE stand_id = '`+id+`'`)
	more := filepath.Join(filepath.Dir(file), "more.csv")
	save(t, more, []byte("x,y,eventDate,occurrenceStatus\n25.1,70.05,2026-07-20,detected\n"))
	out, err := exec.Command("ogr2ogr", "-append", "-update", file, more, "-nln", "points", "-oo", "X_POSSIBLE_NAMES=x", "-oo", "Y_POSSIBLE_NAMES=y", "-a_srs", "EPSG:4326").CombinedOutput()
	if err != nil {
		t.Fatalf("ogr2ogr: %v\n%s", err, out)
	}
	_, work := reread(t, file, intake.RoleTreatments)
	_, finds := reread(t, file, intake.RolePoints)
	got := fmt.Sprintf("%d work", len(work.work))
	if len(work.work) == 1 {
		got += fmt.Sprintf(" %s %s %g", work.work[0].StandID, work.work[0].Method, work.work[0].TreatedAcres)
	}
	for _, p := range finds.points {
		got += fmt.Sprintf("; find %v %v", p.Position, p.Detected)
	}
	if d := cmp.Diff("1 work "+id+" hand pull 0.5; find [25.1 70.05] true", got); d != "" {
		t.Error(d)
	}
}

// TestCrewPackageIsWhole: the checks of a finished folder accept the file. It has a style for each
// layer of the map, and no spatial index, since its triggers call functions that not every program
// has.
func TestCrewPackageIsWhole(t *testing.T) {
	file, _ := phone(t)
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if r := validate.GeoPackage(data); !r.OK() {
		t.Error(r.Problems)
	}
	db, err := sql.Open("sqlite", file)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if styled := strings.Join(texts(t, db, "SELECT f_table_name FROM layer_styles ORDER BY id"), " "); styled != "crew_stops treatments points" {
		t.Errorf("styles of %s", styled)
	}
	if indexes := texts(t, db, "SELECT name FROM sqlite_schema WHERE name LIKE 'rtree%' OR type = 'trigger'"); len(indexes) > 0 {
		t.Errorf("the file has %s", indexes)
	}
}
