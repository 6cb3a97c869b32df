package main

import (
	"encoding/xml"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/testkit"
)

// TestPlacesToGoOfTheDemo: in all eight quarters of the demo every stand's place to go to is inside
// the stand, as both are written.
func TestPlacesToGoOfTheDemo(t *testing.T) {
	quarters, err := filepath.Glob(filepath.Join(demoToRead(t), "20??Q?"))
	if err != nil || len(quarters) != 8 {
		t.Fatalf("%v %v", quarters, err)
	}
	var all testkit.Places
	for _, folder := range quarters {
		p, err := testkit.PlacesToGo(folder)
		if err != nil {
			t.Error(err)
		}
		all.Add(p)
	}
	t.Logf("%+v", all)
	if all.Stands < 400 || all.Events < 100 || all.Waypoints < 400 {
		t.Errorf("too few to tell: %+v", all)
	}
}

// TestTablesAndWaypointsAgree: in all quarters of the demo stands.csv and order.csv have the place
// of followup.csv. So has the waypoint of crew.gpx, except for stands planned in blocks. Water and
// river km are those of the stand, and every row has its cautions.
func TestTablesAndWaypointsAgree(t *testing.T) {
	stands, waypoints := 0, 0
	for _, quarter := range demoQuarters {
		at := func(name string) string { return filepath.Join(demoToRead(t), quarter, name) }
		where := map[string][]string{}
		columns := []string{"decimalLongitude", "decimalLatitude", "waterBody", "river_km"}
		cells := func(row map[string]string, names []string) (out []string) {
			for _, name := range names {
				out = append(out, row[name])
			}
			return out
		}
		cautious := func(name string, row map[string]string) {
			if !strings.Contains(row["cautions"], "product label") || !strings.Contains(row["cautions"], "flood water") {
				t.Errorf("%s %s: stand %s has the cautions %q", quarter, name, row["stand_id"], row["cautions"])
			}
		}
		for _, row := range table(t, at("stands.csv")) {
			where[row["stand_id"]] = cells(row, columns)
		}
		for _, row := range table(t, at("order.csv")) {
			if want := where[row["stand_id"]]; want[0] == "" || !slices.Equal(cells(row, columns), want) {
				t.Errorf("%s: stand %s is at %v in order.csv and at %v in stands.csv", quarter, row["stand_id"], cells(row, columns), want)
			}
			cautious("order.csv", row)
			stands++
		}
		for _, row := range table(t, at("followup.csv")) {
			if want := where[row["stand_id"]]; want != nil && !slices.Equal(cells(row, columns), want) {
				t.Errorf("%s: stand %s is at %v in followup.csv and at %v in stands.csv", quarter, row["stand_id"], cells(row, columns), want)
			}
			cautious("followup.csv", row)
		}
		for _, row := range table(t, at("plan.csv")) {
			cautious("plan.csv", row)
		}
		data, err := os.ReadFile(at("crew.gpx"))
		if os.IsNotExist(err) {
			continue
		}
		var units struct {
			Points []struct {
				Lat  string `xml:"lat,attr"`
				Lon  string `xml:"lon,attr"`
				Cmt  string `xml:"cmt"`
				Desc string `xml:"desc"`
			} `xml:"wpt"`
		}
		if err := errors.Join(err, xml.Unmarshal(data, &units)); err != nil {
			t.Fatal(err)
		}
		for _, w := range units.Points {
			id, _, _ := strings.Cut(strings.TrimPrefix(w.Desc, "Stand "), ". ")
			if want := where[id]; want == nil || strings.Contains(w.Cmt, " BLOCK ") {
				continue
			} else if w.Lon != want[0] || w.Lat != want[1] {
				t.Errorf("%s: stand %s is at %s, %s in crew.gpx and at %v in stands.csv", quarter, id, w.Lon, w.Lat, want)
			}
			waypoints++
		}
	}
	if stands < 400 || waypoints < 50 {
		t.Errorf("too few to tell: %d stands, %d waypoints", stands, waypoints)
	}
}
