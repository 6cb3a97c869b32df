package main

import (
	"archive/zip"
	"bytes"
	"context"
	"database/sql"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	_ "modernc.org/sqlite"

	"driftreach/geo/earth"
	"driftreach/internal/disk"

	"github.com/paulmach/orb"
)

// secret is part of every word that a public edition must not contain: in names of files and
// columns, in ids, cells and settings.
const secret = "qzx"

// secretInputs are two quarters in which everything that could identify somebody contains the
// secret.
var secretInputs = map[string]string{
	"qzxpoints-2026Q2.csv": `occurrenceID,eventDate,decimalLongitude,decimalLatitude,occurrenceStatus,management_status,patch_area_m2,canopy_cover_percent,recordedBy,parcel,occurrenceRemarks,owner,permission,gate,qzxcolumn
qzx-a,2026-05-02,-40.0004512,-33.0012345,detected,untreated,600,50,Qzxa Observer,qzx-17,gate code qzx 4417,Qzx Owner,by qzx,qzxgate,+00 qzx
qzx-b,2026-05-02,-40.0003121,-33.0212677,detected,untreated,300,60,Qzxa Observer,qzx-18,,,,,
`,
	"qzxpoints-2026Q3.csv": `occurrenceID,eventDate,decimalLongitude,decimalLatitude,occurrenceStatus,management_status,patch_area_m2,canopy_cover_percent,recordedBy,parcel,occurrenceRemarks,owner,permission,gate,qzxcolumn
qzx-a,2026-08-02,-40.0004512,-33.0012345,detected,untreated,600,50,Qzxa Observer,qzx-17,gate code qzx 4417,Qzx Owner,by qzx,qzxgate,+00 qzx
qzx-c,2026-08-02,-40.0009233,-33.0113456,detected,untreated,400,50,Qzxa Observer,qzx-19,qzx remark,Qzx Owner,,,
qzx-d,2026-08-03,-40.0000877,-33.0334567,detected,resprout,500,qzxmuch,Qzxa Observer,qzx-20,,,,,
qzx-e,2026-08-03,-40.0003121,-33.0212677,notDetected,,,,Qzxa Observer,qzx-18,,,,,
qzx-f,2026-08-03,-40.0009988,-33.0445678,detected,untreated,200,50,Qzxa Observer,qzx-21,,,,,
`,
	"qzxtreatments.csv": `date,stand_id,treated_acres,method,product,applicator,licence,start_time,end_time,photo_numbers,decimalLongitude,decimalLatitude
2026-08-20,,0.05,foliar spray,Invented Wash,Qzx Applicator,qzx-license,qzx10,qzx11,qzx-1.jpg,-40.0004512,-33.0012345
`,
	"qzxworks.csv": `work_id,kind,start_date,end_date,contact,decimalLongitude,decimalLatitude
W-1,mowing,2026-10-05,2026-10-09,Qzx Contact,-40.0009244,-33.0113477
`,
	"qzxtreatable.csv": `stand_id,parcel,permission,permission_expires,access,closed_from,closed_to,closed_for
,qzx-19,refused,,,,,
,qzx-20,given,,boat by qzx,01-01,12-31,qzx reason
`,
	"qzxcorrections.csv": `date,correction,occurrenceID,reason
2026-08-30,misidentified,qzx-f,Qzx saw it
`,
	"qzx.toml": `[crew]
emergency = "call Qzx"
meeting_place = "the qzx bridge"
[plan]
factor_column = "qzxcolumn"
[plan.factors]
"qzx word" = 2.0
`,
	"streams.geojson":  `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"stream_id":"s1","waterBody":"Long Water","stream_order":2,"bankfull_width_m":8},"geometry":{"type":"LineString","coordinates":[[-40.0,-33.0],[-40.0002,-33.06]]}}]}`,
	"surveyed.geojson": `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"eventDate":"2026-08-02","method":"foot"},"geometry":{"type":"Polygon","coordinates":[[[-40.0023451,-33.0456712],[-39.9987612,-33.0456712],[-39.9987612,-32.9998721],[-40.0023451,-32.9998721],[-40.0023451,-33.0456712]]]}}]}`,
}

// secretPlaces are the numbers that a public edition must not contain: positions of records, works
// and surveyed ground, to six decimals, a tenth of a metre.
var secretPlaces = []string{
	"40.000451", "33.001234", "40.000923", "33.011345", "33.033456", "40.000312", "33.021267",
	"40.002345", "33.045671", "39.998761", "32.999872", "40.000924", "33.011347",
}

// TestPublicEdition searches every byte of every file in a public edition of two quarters,
// unpacked, for the secrets and the true places, as text and as database numbers. The whole batch
// contains each of them. verify accepts the edition, and no batch can continue it.
func TestPublicEdition(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	for name, text := range secretInputs {
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	run := func(want int, args ...string) string {
		t.Helper()
		var stdout, stderr bytes.Buffer
		p := &program{ctx: context.Background(), stdout: &stdout, stderr: &stderr, disk: disk.System()}
		if code := p.report(p.run(args)); code != want {
			t.Fatalf("%v: exit code %d, want %d: %s%s", args, code, want, stdout.String(), stderr.String())
		}
		return stdout.String() + stderr.String()
	}
	all := []string{"--streams", "streams.geojson", "--kml", "--gpkg", "--xlsx", "--network", "--crew", "--stage", "both", "--budget", "1", "--settings", "qzx.toml"}
	run(exitDone, append([]string{"batch", "--points", "qzxpoints-2026Q2.csv", "--quarter", "2026Q2", "--out", "q2", "--public", "open2"}, all...)...)
	third := append([]string{"batch", "--points", "qzxpoints-2026Q3.csv", "--quarter", "2026Q3", "--previous", "q2", "--surveyed", "surveyed.geojson",
		"--treatments", "qzxtreatments.csv", "--works", "qzxworks.csv", "--treatable", "qzxtreatable.csv", "--corrections", "qzxcorrections.csv"}, all...)
	run(exitDone, append(third, "--out", "q3", "--public", "open3")...)

	whole := everyText(t, "q3")
	for _, text := range append([]string{secret}, secretPlaces...) {
		if !strings.Contains(strings.Join(valuesOf(whole), "\n"), text) {
			t.Errorf("the whole batch does not have %s: the search would find nothing", text)
		}
	}
	for _, folder := range []string{"open2", "open3"} {
		texts := everyText(t, folder)
		for name, text := range texts {
			for _, hidden := range append([]string{secret}, secretPlaces...) {
				if at := strings.Index(text, hidden); at >= 0 {
					t.Errorf("%s has %s: ...%q...", name, hidden, text[max(0, at-60):min(len(text), at+60)])
				}
			}
		}
		for _, gone := range []string{"crew.html", "crew.gpx", "crew.gpkg", "followup.ics"} {
			if _, err := os.Stat(filepath.Join(folder, gone)); err == nil {
				t.Errorf("%s has %s", folder, gone)
			}
		}
		for _, kept := range []string{"report.html", "map.html", "map.kmz", "map.kml", "driftreach.gpkg", "tables.xlsx", "stands.csv", "order.csv", "plan.csv", "followup.csv", "network.geojson"} {
			if _, err := os.Stat(filepath.Join(folder, kept)); err != nil {
				t.Error(err)
			}
		}
		if out := run(exitDone, "verify", folder); !strings.Contains(out, "public edition") {
			t.Errorf("verify does not say that it is a public edition: %s", out)
		}
		numbers(t, folder)
		mapPlaces(t, filepath.Join(folder, "map.html"))
	}
	equalFigures(t)

	if out := run(exitUsage, append(third, "--out", "q3", "--public", "q3/open")...); !strings.Contains(out, "--public") {
		t.Error(out)
	}
	if out := run(exitOutput, append(third, "--out", "q4", "--public", "q3")...); !strings.Contains(out, "the folder holds the finished batch of 2026Q3, and this is the public edition of 2026Q3") {
		t.Error(out)
	}
	if out := run(exitOutput, append(third, "--out", "open3")...); !strings.Contains(out, "the folder holds the public edition of 2026Q3, and this is the batch of 2026Q3") {
		t.Error(out)
	}
	for i := range third {
		if third[i] == "q2" {
			third[i] = "open2"
		}
	}
	if out := run(exitInput, append(third, "--out", "q5")...); !strings.Contains(out, "public edition") {
		t.Error(out)
	}
}

// equalFigures compares the acres, order and visits of the public edition with the batch's.
func equalFigures(t *testing.T) {
	t.Helper()
	for name, columns := range map[string][]string{
		"stands.csv":   {"stand_id", "infested_acres", "gross_acres", "canopy_acres", "treat_order", "management_status", "exposure"},
		"followup.csv": {"stand_id", "state", "due"},
		"summary.csv":  {"scope", "infested_acres", "reach_at_risk_km", "new_acres", "not_detected_acres"},
	} {
		have, want := table(t, filepath.Join("open3", name)), table(t, filepath.Join("q3", name))
		if len(have) != len(want) || len(want) == 0 {
			t.Fatalf("%s has %d rows, the batch %d", name, len(have), len(want))
		}
		for i := range want {
			for _, c := range columns {
				if have[i][c] != want[i][c] {
					t.Errorf("%s row %d: %s is %q, of the batch %q", name, i+1, c, have[i][c], want[i][c])
				}
			}
		}
	}
	for _, row := range table(t, "open3/stands.csv") {
		for _, c := range []string{"river_km", "reach_km", "reach_possible_km", "reach_km_p90", "flood_reach_km"} {
			if strings.Contains(row[c], ".") {
				t.Errorf("stand %s has %s %s, no whole step of 1 km", row["stand_id"], c, row[c])
			}
		}
	}
}

func valuesOf(m map[string]string) (out []string) {
	for _, v := range m {
		out = append(out, v)
	}
	return out
}

// everyText returns the content of every file in a folder, in lower case; for archives and
// databases also their parts.
func everyText(t *testing.T, folder string) map[string]string {
	t.Helper()
	out := map[string]string{}
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		name := filepath.Join(folder, e.Name())
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		out[name] = strings.ToLower(string(data))
		switch filepath.Ext(name) {
		case ".kmz", ".xlsx":
			pack, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
			if err != nil {
				t.Fatal(err)
			}
			for _, part := range pack.File {
				r, err := part.Open()
				if err != nil {
					t.Fatal(err)
				}
				text, err := io.ReadAll(r)
				if err != nil {
					t.Fatal(err)
				}
				out[name+"/"+part.Name] = strings.ToLower(string(text))
			}
		case ".gpkg":
			out[name+" as rows"] = strings.ToLower(rowsOfDatabase(t, name))
		}
	}
	return out
}

// rowsOfDatabase returns every text of every table.
func rowsOfDatabase(t *testing.T, name string) string {
	t.Helper()
	db, err := sql.Open("sqlite", name)
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	var b strings.Builder
	for _, table := range names(t, db, "SELECT name FROM sqlite_master WHERE type = 'table'") {
		rows, err := db.Query(`SELECT * FROM "` + table + `"`)
		if err != nil {
			t.Fatal(err)
		}
		columns, _ := rows.Columns()
		cells := make([]any, len(columns))
		for i := range cells {
			cells[i] = new(any)
		}
		for rows.Next() {
			if err := rows.Scan(cells...); err != nil {
				t.Fatal(err)
			}
			for _, c := range cells {
				fmt.Fprintf(&b, "%v\n", *c.(*any))
			}
		}
		rows.Close()
	}
	return b.String()
}

func names(t *testing.T, db *sql.DB, query string) (out []string) {
	t.Helper()
	rows, err := db.Query(query)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			t.Fatal(err)
		}
		out = append(out, s)
	}
	return out
}

// numbers searches the database for the positions of records as numbers in geometries.
func numbers(t *testing.T, folder string) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(folder, "driftreach.gpkg"))
	if err != nil {
		t.Fatal(err)
	}
	found := 0
	for _, v := range []float64{-40.0004512, -33.0012345, -40.0009233, -33.0113456, -40.0003121, -33.0212677, -33.0334567, -33.0456712} {
		for _, order := range []binary.AppendByteOrder{binary.LittleEndian, binary.BigEndian} {
			if bytes.Contains(data, order.AppendUint64(nil, math.Float64bits(v))) {
				t.Errorf("%s: the database has the number %v", folder, v)
			}
		}
	}
	whole, err := os.ReadFile(filepath.Join("q3", "driftreach.gpkg"))
	if err != nil || !bytes.Contains(whole, binary.LittleEndian.AppendUint64(nil, math.Float64bits(-33.0113456))) {
		t.Errorf("the whole batch's database does not have the number: %v %d", err, found)
	}
}

// mapPlaces checks that the places of stands and records in map.html, which are relative to an
// origin, are corners or middles of the grid.
func mapPlaces(t *testing.T, name string) {
	t.Helper()
	page, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`(?s)<script type="application/json" id="data">(.*?)</script>`).FindSubmatch(page)
	if m == nil {
		t.Fatal("no data in " + name)
	}
	var data struct {
		Origin [2]float64 `json:"origin"`
		Steps  float64    `json:"steps"`
		Stands []struct {
			At    []int     `json:"c"`
			Rings [][][]int `json:"g"`
		} `json:"stands"`
		Points []struct {
			At []int `json:"c"`
		} `json:"points"`
	}
	if err := json.Unmarshal(m[1], &data); err != nil {
		t.Fatal(err)
	}
	plane, n := earth.NewEqualAreaCylinder(), 0
	check := func(x, y int) {
		n++
		p := plane.Forward(orb.Point{data.Origin[0] + float64(x)/data.Steps, data.Origin[1] + float64(y)/data.Steps})
		for _, v := range p {
			if halves := v / 500; math.Abs(halves-math.Round(halves)) > 2e-2 {
				t.Errorf("%s: %v is no place of the grid", name, p)
			}
		}
	}
	for _, s := range data.Stands {
		check(s.At[0], s.At[1])
	}
	for _, p := range data.Points {
		check(p.At[0], p.At[1])
	}
	if n < 4 {
		t.Errorf("%s: %d places", name, n)
	}
}
