package mapfile

import (
	"bytes"
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/result"
	"driftreach/internal/stretch"
	"driftreach/internal/verify/validate"
)

// The stretches on the list become routes that run downstream, follow the schema, and have no more
// points than navigation units accept; GDAL reads them. Written by hand.
func TestCrewRoutes(t *testing.T) {
	run := &result.Run{Quarter: fixture().Quarter}
	long := orb.LineString{}
	for k := range 400 {
		long = append(long, orb.Point{20, 1 + float64(k)*1e-4})
	}
	run.Stretches = []stretch.Stretch{
		{ID: "la/1", Drawn: &stretch.Drawn{Path: orb.LineString{{10, 1}, {10.001, 1}}}, Length: 111, Listed: true, Access: []string{"<track>"}},
		{ID: "lb/1", Drawn: &stretch.Drawn{Path: long}, Length: 4400, Listed: true},
		{ID: "lc/1", Drawn: &stretch.Drawn{Path: long}, Length: 4400},
	}
	data := crewGPX(t, run)
	want := `<rte><name>WALK1</name><cmt>LOOK 0.1 KM</cmt><desc>Stretch la/1, 0.11 km, down the stream. Access: &lt;track&gt; . ` +
		`Stay out of flood water, and off banks that floods have undercut.</desc><type>look</type>` +
		`<rtept lat="1" lon="10"><name>WALK1-1</name></rtept><rtept lat="1" lon="10.001"><name>WALK1-2</name></rtept></rte>`
	if !strings.Contains(string(data), strings.Replace(want, " . Stay", ". Stay", 1)) {
		t.Errorf("no\n%s\nin\n%.3000s", want, data)
	}
	r := validate.GPX(data, validate.Bounds{})
	if !r.OK() || r.Features != 2 {
		t.Errorf("%d routes, %v", r.Features, r.Problems)
	}
	if n := bytes.Count(data, []byte("<rtept")); n != 2+mostRoutePoints || !bytes.Contains(data, []byte(fmt.Sprintf(`<rtept lat="%.4f" lon="20"><name>WALK2-%d</name>`, 1.0399, mostRoutePoints))) {
		t.Errorf("%d points, want %d to the end", n, 2+mostRoutePoints)
	}
	if _, err := exec.LookPath("ogrinfo"); err != nil {
		t.Skip("ogrinfo is not installed (gdal-bin)")
	}
	file := filepath.Join(t.TempDir(), gpxFile)
	save(t, file, data)
	out, err := exec.Command("ogrinfo", "-so", file, "routes").CombinedOutput()
	if err != nil || !strings.Contains(string(out), "Feature Count: 2") {
		t.Errorf("GDAL: %v\n%s", err, out)
	}
}
