package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"driftreach/internal/disk"
)

// scattered writes a survey with a find beside every fourth line of the extract: at a random place
// along it and up to 80 m to one side, by a seed.
func scattered(t *testing.T, lines []extractFeature, dir string, seed uint64) string {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 12))
	var b strings.Builder
	b.WriteString("occurrenceID,eventDate,decimalLongitude,decimalLatitude,patch_area_m2,canopy_cover_percent\n")
	for i := 0; i < len(lines); i += 4 {
		c := lines[i].Geometry.Coordinates
		k := rng.IntN(len(c) - 1)
		u, side := rng.Float64(), 80*(2*rng.Float64()-1)/111_320 // degrees of latitude
		x, y := c[k][0]+u*(c[k+1][0]-c[k][0]), c[k][1]+u*(c[k+1][1]-c[k][1])
		fmt.Fprintf(&b, "p%d,2026-07-01,%.7f,%.7f,%.1f,80\n", i, x, y+side, 1+300*rng.Float64())
	}
	path := filepath.Join(dir, "points.csv")
	if err := os.WriteFile(path, []byte(b.String()), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestScatteredOnAnExtract: with finds anywhere on a published network, no piece of stream at risk
// has a travel time of 0, and hours do not fall from the first fragment to the mean. A stand
// outside the zone by no more than the setback's spread has a reach in some draws; a stand farther
// out has none.
func TestScatteredOnAnExtract(t *testing.T) {
	streams := extract(t)
	published := features(t, streams)
	dir := t.TempDir()
	out := filepath.Join(dir, "out")
	var stderr bytes.Buffer
	p := &program{ctx: t.Context(), stdout: new(bytes.Buffer), stderr: &stderr, disk: disk.System()}
	if code := p.report(p.run([]string{
		"batch", "--points", scattered(t, published, dir, 1), "--streams", streams, "--quarter", "2026Q3",
		"--settings", pageExample(t, "nhdplus.toml", dir), "--out", out,
	})); code != exitDone {
		t.Fatalf("exit code %d: %s", code, stderr.String())
	}
	stands := map[string]map[string]string{}
	for _, s := range table(t, filepath.Join(out, "stands.csv")) {
		stands[s["stand_id"]] = s
	}
	pieces := table(t, filepath.Join(out, "reaches.csv"))
	risky, zero := 0, 0
	for _, r := range pieces {
		if r["hours_afloat_mean"] == "" {
			continue
		}
		risky++
		fast, mean := num(t, r, "hours_afloat_fast"), num(t, r, "hours_afloat_mean")
		if fast > mean {
			t.Errorf("%v: %v to %v hours afloat", r, fast, mean)
		}
		if fast == 0 {
			// its nearest stand is so close above its lower end that the time rounds to 0 hundredths
			// of an hour, but is not at the end itself
			zero++
			from := stands[r["nearest_stand_id"]]
			if above := num(t, from, "river_km") - num(t, r, "to_km"); !(above > 0 && above < 0.03) {
				t.Errorf("%v: no hours afloat from a stand %v km above its end", r, above)
			}
		}
	}
	near, inside, far := 0, 0, 0
	for _, s := range stands {
		reach, high := num(t, s, "reach_km"), num(t, s, "reach_km_p90")
		switch distance := num(t, s, "water_distance_m"); {
		case s["aquatic_zone"] == "true":
			inside++
			if !(reach > 0) {
				t.Errorf("%s in the zone reaches %v km", s["stand_id"], reach)
			}
		case distance < 33:
			near++
			if reach != 0 || !(high > 0) {
				t.Errorf("%s, %v m from the water: reach %v, P90 %v", s["stand_id"], distance, reach, high)
			}
		case distance > 45:
			far++
			if reach != 0 || high != 0 {
				t.Errorf("%s, %v m from the water: reach %v, P90 %v", s["stand_id"], distance, reach, high)
			}
		}
	}
	if risky < 100 || inside < 50 || near == 0 {
		t.Errorf("%d pieces, %d stands inside, %d just outside: too few to tell", risky, inside, near)
	}
	t.Log(risky, "pieces,", zero, "of no hundredth of an hour,", inside, "stands inside the zone,", near, "just outside,", far, "far")
}
