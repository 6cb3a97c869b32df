package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// smallSurvey is a batch's input as GeoJSON: records along two streams, every
// status, an absence, measured and unmeasured patches.
func smallSurvey() (points, streams string) {
	var features []string
	for i := range 40 {
		t := float64(i%20) / 20
		lon, lat := -127.5+0.02*t+0.0001*float64(i%3), -38.5-0.03*t
		if i >= 20 {
			lon, lat = -127.48-0.00021*float64(i), -38.53+0.0000731*float64(i)
		}
		area := "null"
		if i%4 != 0 {
			area = strconv.Itoa(20 + 13*i)
		}
		occurrence := "detected"
		if i == 7 {
			occurrence = "notDetected"
		}
		features = append(features, fmt.Sprintf(`{"type":"Feature","properties":{"occurrenceID":"r%02d","eventDate":"2026-07-%02d","occurrenceStatus":%q,"management_status":%q,"patch_area_m2":%s,"canopy_cover_percent":%d},"geometry":{"type":"Point","coordinates":[%.7f,%.7f]}}`,
			i, 1+i%28, occurrence, []string{"untreated", "treated", "resprout", "standing_dead"}[i%4], area, 30+i, lon, lat))
	}
	points = `{"type":"FeatureCollection","features":[` + strings.Join(features, ",\n") + `]}`
	streams = `{"type":"FeatureCollection","features":[
{"type":"Feature","properties":{"stream_id":"s1","waterBody":"Río Ancho","stream_order":2,"bankfull_width_m":12.5},"geometry":{"type":"LineString","coordinates":[[-127.5,-38.5],[-127.49,-38.515],[-127.48,-38.53]]}},
{"type":"Feature","properties":{"stream_id":"s2","waterBody":"Side Water","stream_order":1,"bankfull_width_m":null},"geometry":{"type":"LineString","coordinates":[[-127.5,-38.53],[-127.48,-38.53]]}},
{"type":"Feature","properties":{"stream_id":"s3","waterBody":"Río Ancho","stream_order":2,"bankfull_width_m":14},"geometry":{"type":"LineString","coordinates":[[-127.48,-38.53],[-127.46,-38.57],[-127.47,-38.6]]}}]}`
	return points, streams
}

// albersFeet is a system that no code names, in US survey feet.
const albersFeet = "+proj=aea +lat_1=-36 +lat_2=-41 +lat_0=-38 +lon_0=-128 +x_0=609601.2192024384 +datum=NAD83 +units=us-ft"

// TestFormatsGiveTheSameBatch: GDAL (reference program, Debian's gdal-bin) writes
// the same layers in every format and several reference systems, and the batch is
// the same, byte for byte. Positions are written to 0.1 mm at least.
func TestFormatsGiveTheSameBatch(t *testing.T) {
	if _, err := exec.LookPath("ogr2ogr"); err != nil {
		t.Skip("ogr2ogr is not installed (gdal-bin): layers are not written in other formats")
	}
	dir := t.TempDir()
	points, streams := smallSurvey()
	for name, text := range map[string]string{"p.geojson": points, "s.geojson": streams} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want := batchOf(t, dir, filepath.Join(dir, "p.geojson"), filepath.Join(dir, "s.geojson"))
	if !strings.Contains(want["stands.csv"], "true") || len(want["reaches.csv"]) < 200 {
		t.Fatalf("the batch to compare with is empty: %v", want)
	}
	cut := []string{"occurrenceID=occurrence", "occurrenceStatus=occurren_1", "canopy_cover_percent=canopy_cov"}
	for _, c := range []struct {
		ending  string
		options []string
		systems []string
		mapped  []string
	}{
		{"gpkg", []string{"-f", "GPKG"}, []string{"EPSG:4326", "EPSG:32709", "EPSG:3857", albersFeet}, nil},
		{"shp", []string{"-f", "ESRI Shapefile", "-lco", "ENCODING=UTF-8"}, []string{"EPSG:4269", "EPSG:32709", "EPSG:3857", albersFeet}, cut},
		{"csv", []string{"-f", "CSV", "-lco", "GEOMETRY=AS_WKT"}, []string{"EPSG:4326", "EPSG:32709", "EPSG:3857"}, nil},
		{"geojson", []string{"-f", "GeoJSON", "-lco", "RFC7946=NO"}, []string{"EPSG:32709", "EPSG:3857"}, nil},
		{"kml", []string{"-f", "LIBKML"}, []string{"EPSG:4326"}, nil},
		{"gpx", []string{"-f", "GPX", "-dsco", "GPX_USE_EXTENSIONS=YES", "-lco", "FORCE_GPX_TRACK=YES"}, []string{"EPSG:4326"}, nil},
	} {
		for k, system := range c.systems {
			t.Run(c.ending+" "+system, func(t *testing.T) {
				p, s := filepath.Join(dir, fmt.Sprintf("p%d.%s", k, c.ending)), filepath.Join(dir, fmt.Sprintf("s%d.%s", k, c.ending))
				for from, to := range map[string]string{"p.geojson": p, "s.geojson": s} {
					args := append(append([]string{}, c.options...), "-t_srs", system, to, filepath.Join(dir, from))
					if c.ending == "gpx" && to == s {
						args = append(args, "-nlt", "MULTILINESTRING")
					}
					if out, err := exec.Command("ogr2ogr", args...).CombinedOutput(); err != nil {
						t.Fatalf("ogr2ogr: %v: %s", err, out)
					}
				}
				var more []string
				if c.ending == "csv" {
					more = []string{"--points-crs", system, "--streams-crs", system}
				}
				for _, m := range c.mapped {
					more = append(more, "--set", "columns.points."+m)
				}
				got := batchOf(t, dir, p, s, more...)
				for name := range want {
					if want[name] != got[name] {
						t.Errorf("%s: (-GeoJSON +this)\n%s", name, cmp.Diff(want[name], got[name]))
					}
				}
			})
		}
	}
}

// batchOf runs a batch and returns its tables.
func batchOf(t *testing.T, dir, points, streams string, more ...string) map[string]string {
	t.Helper()
	out, err := os.MkdirTemp(dir, "out")
	if err != nil {
		t.Fatal(err)
	}
	var stderr bytes.Buffer
	p := &program{ctx: t.Context(), stdout: new(bytes.Buffer), stderr: &stderr}
	args := []string{"batch", "--points", points, "--streams", streams, "--quarter", "2026Q3", "--out", filepath.Join(out, "b"), "--set", "drift.draws=0"}
	if code := p.report(p.run(append(args, more...))); code != exitDone {
		t.Fatalf("exit code %d: %s", code, stderr.String())
	}
	tables := map[string]string{}
	for _, name := range []string{"stands.csv", "reaches.csv", "summary.csv", "order.csv", "points.geojson", "stands.geojson", "reaches.geojson", "aquatic_zone.geojson"} {
		data, err := os.ReadFile(filepath.Join(out, "b", name))
		if err != nil {
			t.Fatal(err)
		}
		tables[name] = string(data)
	}
	return tables
}
