package intake

import (
	"math"
	"testing"

	"github.com/paulmach/orb"
)

// TestCSVGeometry: a column with geometries is read as such; a column with only the name is an
// ordinary column.
func TestCSVGeometry(t *testing.T) {
	records, findings, p := readPoints(t, "occurrenceID,WKT,shape,eventDate\na,POINT(1 2),round,2026-07-01\nb,SRID=32631;POINT(500000 0),long,2026-07-01\n", testOptions())
	if len(records) != 2 || len(findings) != 0 || records[0].Position != (orb.Point{1, 2}) || p.Extra[0] != "shape" || records[0].Told().Extra[0] != "round" {
		t.Errorf("%v, %s, %v", records, codes(findings), p.Extra)
	}
	if len(records) == 2 && math.Abs(records[1].Position[0]-3) > 1e-9 {
		t.Errorf("zone 31 has its middle at 3 east, got %v", records[1].Position)
	}
	_, findings, _ = readPoints(t, "occurrenceID,WKT,eventDate\na,POINT(1,2026-07-01\nb,,2026-07-01\nc,LINESTRING(1 2 3),2026-07-01\nd,POINT(3 4),2026-07-01\n", testOptions())
	if codes(findings) != "a geometry-malformed; b position-missing; c geometry-kind" && codes(findings) != "a geometry-malformed; b position-missing; c geometry-malformed" {
		t.Errorf("%s", codes(findings))
	}
}

// TestCSVSystem reads eastings and northings in the requested system, and prefers them to degrees.
func TestCSVSystem(t *testing.T) {
	o := testOptions()
	o.CRS = "EPSG:32633"
	records, findings, p := readPoints(t, "occurrenceID,lat,lon,Easting,Northing,eventDate\na,0,0,500000,0,2026-07-01\nb,0,0,0,0,2026-07-01\nc,0,0,9e9,1,2026-07-01\n", o)
	if len(records) != 1 || math.Abs(records[0].Position[0]-15) > 1e-9 || p.System != "WGS 84 / UTM zone 33N" || codes(findings) != "b position-zero; c position-unreadable" {
		t.Errorf("%v of %s, %s", records, p.System, codes(findings))
	}
	_, findings, _ = readPoints(t, "occurrenceID,Easting,Northing,eventDate\na,500000,4100000,2026-07-01\n", testOptions())
	if codes(findings) != "a position-projected" {
		t.Errorf("without a system: %s", codes(findings))
	}
}
