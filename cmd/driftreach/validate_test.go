package main

import (
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"driftreach/internal/verify/validate"
)

// sea is the box the invented country lies in, with room for its coast: what is
// outside it has its coordinates swapped or wrong.
var sea = validate.Bounds{West: -130, South: -40, East: -126, North: -37}

// Every file of every quarter is held against RFC 7946, RFC 4180 and OGC KML 2.2
// with the rules a schema does not see.
func TestEveryFileOfTheDemoConforms(t *testing.T) {
	dir := demoToRead(t)
	checked := 0
	for _, path := range glob(t, dir, "20*/*") {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var report *validate.Report
		switch filepath.Ext(path) {
		case ".geojson":
			report = validate.GeoJSON(data, sea)
		case ".csv":
			report = validate.CSV(data)
		case ".ics":
			report = validate.Calendar(data, sea)
		case ".gpx":
			if r := validate.GPX(data, sea); !r.OK() || r.Features < 40 {
				t.Errorf("%s: %d waypoints, %v", path, r.Features, r.Problems)
			}
			continue
		case ".kmz":
			report = validate.KMZ(data, sea)
		case ".kml":
			report = validate.KML(data, sea)
		default:
			continue
		}
		checked++
		if !report.OK() {
			t.Errorf("%s: %v", path, report.Problems)
		}
	}
	if checked != 8*32+7*3+5 {
		t.Errorf("checked %d files, want 8 quarters of 32, in 7 of them the links to the one before, what stands counted and what was taken back, in 5 the parts of stands treated in part", checked)
	}
}

// The KML schema is the one of the go-kml module, with two small stand-ins for
// the schemas it imports.
func TestMapsOfTheDemoAreValid(t *testing.T) {
	if _, err := exec.LookPath("xmllint"); err != nil {
		t.Skip("xmllint is not installed (Debian: libxml2-utils)")
	}
	module, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/twpayne/go-kml/v3").Output()
	if err != nil {
		t.Skipf("the go-kml module cannot be found: %v", err)
	}
	schemas := t.TempDir()
	schema, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(module)), "xsd", "ogckml22.xsd"))
	if err != nil {
		t.Fatal(err)
	}
	text := strings.ReplaceAll(string(schema), "http://docs.oasis-open.org/election/external/xAL.xsd", "xAL.xsd")
	if err := os.WriteFile(filepath.Join(schemas, "ogckml22.xsd"), []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	for _, stub := range glob(t, filepath.Join(top, "testdata", "xsd"), "*.xsd") {
		copyFile(t, stub, filepath.Join(schemas, filepath.Base(stub)))
	}
	for _, path := range glob(t, demoToRead(t), "20*/map.kml") {
		out, err := exec.Command("xmllint", "--nonet", "--noout", "--schema", filepath.Join(schemas, "ogckml22.xsd"), path).CombinedOutput()
		if err != nil {
			t.Errorf("%s: %v\n%.2000s", path, err, out)
		}
	}
}

func copyFile(t *testing.T, from, to string) {
	t.Helper()
	data, err := os.ReadFile(from)
	if err == nil {
		err = os.WriteFile(to, data, 0o666)
	}
	if err != nil {
		t.Fatal(err)
	}
}

func glob(t *testing.T, dir, pattern string) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(dir, pattern))
	if err != nil || len(found) == 0 {
		t.Fatalf("nothing like %s in %s: %v", pattern, dir, err)
	}
	return found
}

// The rules that hold for any batch, on the tables of the demo as a reader gets
// them: canopy <= infested <= gross, the parts add up to the total to the last
// digit, and the mass balance closes.
func TestTablesOfTheDemoAddUp(t *testing.T) {
	for _, quarter := range glob(t, demoToRead(t), "20*") {
		stands, summary := table(t, filepath.Join(quarter, "stands.csv")), table(t, filepath.Join(quarter, "summary.csv"))
		order := 0.0
		for _, s := range stands {
			if canopy, infested, gross := num(t, s, "canopy_acres"), num(t, s, "infested_acres"), num(t, s, "gross_acres"); !(canopy <= infested && infested <= gross && infested > 0) {
				t.Errorf("%s %s: canopy %v, infested %v, gross %v", quarter, s["stand_id"], canopy, infested, gross)
			}
			if num(t, s, "treat_order") < order {
				t.Errorf("%s %s: out of treatment order", quarter, s["stand_id"])
			}
			order = num(t, s, "treat_order")
		}
		total := summary[0]
		for _, column := range []string{"stands", "gross_acres", "infested_acres", "canopy_acres", "zone_acres", "reach_at_risk_km", "released", "settled", "held_at_barriers", "left_at_outlets"} {
			for family, parts := range families(summary) {
				if whole := sum(t, parts, column); !near(whole, num(t, total, column)) {
					t.Errorf("%s: %s by %s %v, in total %s", quarter, column, family, whole, total[column])
				}
			}
		}
		balance := num(t, total, "settled") + num(t, total, "held_at_barriers") + num(t, total, "left_at_outlets")
		if released := num(t, total, "released"); !near(balance, released) || released <= 0 {
			t.Errorf("%s: released %v, accounted for %v", quarter, released, balance)
		}
		// the total is rounded once, each stand by itself
		off := math.Abs(sum(t, stands, "infested_acres") - num(t, total, "infested_acres"))
		if _, digits, _ := strings.Cut(total["infested_acres"], "."); off > 0.51*math.Pow10(-len(digits))*float64(len(stands)) {
			t.Errorf("%s: infested acres of stands.csv and of summary.csv are %v apart", quarter, off)
		}
	}
}

// families returns the rows of a summary that each make the total: by unit, with
// what lies outside them, and by stream.
func families(summary []map[string]string) map[string][]map[string]string {
	out := map[string][]map[string]string{}
	for _, row := range summary[1:] {
		family := "stream"
		if row["scope"] == "unit" || row["scope"] == "outsideUnits" {
			family = "unit"
		}
		out[family] = append(out[family], row)
	}
	return out
}

// near allows what adding decimal fractions in binary loses.
func near(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }

func table(t *testing.T, path string) []map[string]string {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil || len(lines) < 2 {
		t.Fatalf("%s: %d lines, %v", path, len(lines), err)
	}
	var rows []map[string]string
	for _, line := range lines[1:] {
		row := map[string]string{}
		for i, cell := range line {
			row[lines[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

func num(t *testing.T, row map[string]string, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[column], 64)
	if err != nil {
		t.Fatalf("%s of %v is no number", column, row)
	}
	return v
}

func sum(t *testing.T, rows []map[string]string, column string) float64 {
	t.Helper()
	total := 0.0
	for _, row := range rows {
		total += num(t, row, column)
	}
	return total
}

// The manifest answers for every file beside it, with the hash and size it has.
func TestManifestsOfTheDemoAreTrue(t *testing.T) {
	dir := demoToRead(t)
	for _, path := range append(glob(t, dir, "20*/manifest.json"), filepath.Join(dir, "manifest.json")) {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		var m struct {
			Outputs []struct {
				Name, SHA256 string
				Bytes        int64
			}
		}
		if err := json.Unmarshal(text, &m); err != nil || len(m.Outputs) < 11 {
			t.Fatalf("%s: %d outputs, %v", path, len(m.Outputs), err)
		}
		for _, o := range m.Outputs {
			data, err := os.ReadFile(filepath.Join(filepath.Dir(path), o.Name))
			if err != nil || int64(len(data)) != o.Bytes || hexSum(data) != o.SHA256 {
				t.Errorf("%s: %s is not as listed (%v)", path, o.Name, err)
			}
		}
		if strings.Contains(string(text), filepath.Dir(dir)) || strings.Contains(string(text), "driftreach-part") {
			t.Errorf("%s tells a path of this machine", path)
		}
	}
}

func hexSum(data []byte) string {
	hash := sha256.Sum256(data)
	return hex.EncodeToString(hash[:])
}
