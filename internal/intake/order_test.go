package intake

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// ignoreRow ignores the row number, the only field that a permutation changes.
var ignoreRow = cmp.Options{cmpopts.IgnoreFields(survey.Record{}, "Row"), cmpopts.IgnoreFields(stream.Centerline{}, "Row"), equateNaNs}

// anyRow draws a row with an id, good or bad in any cell.
func anyRow(t *rapid.T) string {
	pick := func(name string, values ...string) string { return rapid.SampledFrom(values).Draw(t, name) }
	return strings.Join([]string{
		pick("id", "a", "b", "c", "d10", "d9", "a~2", "b~2"),
		pick("lon", "1", "2", "0", "95", "200", "x", "", "NaN", "5e5"),
		pick("lat", "3", "4", "0", "117", "", "-inf"),
		pick("date", "2026-07-01", "2026-08", "2026-12-01", "2025", "", "soon"),
		pick("status", "untreated", "treated", "gone", ""),
		pick("area", "10", "-1", "0", "9e9", "", "big"),
		pick("cover", "50", "101", "", "NaN"),
		pick("extra", "", "u", "v"),
	}, ",")
}

// TestPermutedPoints: records and findings of a batch depend on the set of rows, not on their
// order.
func TestPermutedPoints(t *testing.T) {
	const head = "occurrenceID,lon,lat,eventDate,management_status,patch_area_m2,canopy_cover_percent,site\n"
	rapid.Check(t, func(r *rapid.T) {
		rows := rapid.SliceOfN(rapid.Custom(anyRow), 0, 12).Draw(r, "rows")
		o := testOptions()
		o.Limits.FindingsAlike = rapid.IntRange(1, 4).Draw(r, "limit")
		records, findings, _ := readPoints(t, head+strings.Join(rows, "\n"), o)
		shuffled := rapid.Permutation(rows).Draw(r, "shuffled")
		again, told, _ := readPoints(t, head+strings.Join(shuffled, "\n"), o)
		if diff := cmp.Diff(records, again, ignoreRow); diff != "" {
			r.Fatalf("records differ:\n%s", diff)
		}
		if diff := cmp.Diff(findings, told, ignoreRow); diff != "" {
			r.Fatalf("findings differ:\n%s", diff)
		}
		seen := map[string]bool{}
		for i, rec := range records {
			if seen[rec.ID] || i > 0 && records[i-1].ID > rec.ID {
				r.Fatalf("id %s is there twice or out of order", rec.ID)
			}
			seen[rec.ID] = true
		}
	})
}

// TestPermutedFeatures: the same for features whose columns come and go.
func TestPermutedFeatures(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for round := range 50 {
		var features []string
		for i := range 8 {
			properties := []string{fmt.Sprintf(`"occurrenceID":"p%d"`, i), `"eventDate":"2026-07-01"`}
			for _, name := range []string{"zone", "alpha", "lat", "Site"} {
				if rng.IntN(2) == 0 {
					properties = append(properties, fmt.Sprintf(`"%s":%d`, name, rng.IntN(50)))
				}
			}
			rng.Shuffle(len(properties), func(a, b int) { properties[a], properties[b] = properties[b], properties[a] })
			features = append(features, fmt.Sprintf(`{"type":"Feature","properties":{%s},"geometry":{"type":"Point","coordinates":[%d,%d]}}`, strings.Join(properties, ","), 1+rng.IntN(9), 1+rng.IntN(9)))
		}
		read := func() ([]survey.Record, []string, string) {
			records, findings, p := readPoints(t, `{"type":"FeatureCollection","features":[`+strings.Join(features, ",")+`]}`, testOptions())
			return records, p.Extra, codes(findings)
		}
		records, extra, told := read()
		rng.Shuffle(len(features), func(a, b int) { features[a], features[b] = features[b], features[a] })
		again, extra2, told2 := read()
		if diff := cmp.Diff(records, again, ignoreRow); diff != "" || !cmp.Equal(extra, extra2) || told != told2 {
			t.Fatalf("round %d: %v and %v, %q and %q, %s", round, extra, extra2, told, told2, diff)
		}
		for _, r := range records {
			if len(r.Told().Extra) != len(extra) {
				t.Fatalf("record %s has %d carried values for %d columns", r.ID, len(r.Told().Extra), len(extra))
			}
		}
	}
}

// TestPermutedStreams: the same for lines.
func TestPermutedStreams(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		features := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) string {
			return fmt.Sprintf(`{"type":"Feature","properties":{"stream_id":"%s","flow_share":%s,"barrier":"%s"},"geometry":{"type":"LineString","coordinates":%s}}`,
				rapid.SampledFrom([]string{"a", "b", "a~2", "r10", "r9"}).Draw(t, "id"),
				rapid.SampledFrom([]string{"0.5", "2", "null"}).Draw(t, "share"),
				rapid.SampledFrom([]string{"dam", "pond", ""}).Draw(t, "barrier"),
				rapid.SampledFrom([]string{"[[1,2],[3,4]]", "[[1,2],[1,2]]", "[[1,2],[3,4],[3,4]]", "[[1,2]]", "[]", "[[179,1],[181,1]]", "[[0,0],[2,2],[2,0],[0,2]]"}).Draw(t, "path"))
		}), 0, 10).Draw(r, "features")
		wrap := func(f []string) string {
			return `{"type":"FeatureCollection","features":[` + strings.Join(f, ",") + `]}`
		}
		lines, findings, _ := readStreams(t, wrap(features), testOptions())
		again, told, _ := readStreams(t, wrap(rapid.Permutation(features).Draw(r, "shuffled")), testOptions())
		if diff := cmp.Diff(lines, again, ignoreRow); diff != "" {
			r.Fatalf("lines differ:\n%s", diff)
		}
		if diff := cmp.Diff(findings, told); diff != "" {
			r.Fatalf("findings differ:\n%s", diff)
		}
	})
}
