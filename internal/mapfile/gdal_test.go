package mapfile

import (
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"driftreach/internal/result"
)

// TestGDALOpens: GDAL (reference program, Debian's gdal-bin) opens every map
// file without a warning, with as many features as the run has.
func TestGDALOpens(t *testing.T) {
	if _, err := exec.LookPath("ogrinfo"); err != nil {
		t.Skip("ogrinfo is not installed (gdal-bin): files are not opened with GDAL")
	}
	for name, run := range map[string]*result.Run{"fixture": fixture(), "many": many(300, 32)} {
		for _, d := range Deliverables(Extras{KML: true, Network: true, Notices: true, Units: true}) {
			made := made(t, d, run, 2)
			if !slices.Contains([]string{".geojson", ".kml", ".kmz"}, filepath.Ext(made.name)) || made.records == 0 {
				continue // no map
			}
			t.Run(name+"/"+made.name, func(t *testing.T) {
				file := filepath.Join(t.TempDir(), made.name)
				save(t, file, made.data)
				if got, want := gdalFeatures(t, file), made.records; got != want {
					t.Errorf("GDAL sees %d features, the run has %d", got, want)
				}
			})
		}
	}
}

var featureCount = regexp.MustCompile(`Feature Count: (\d+)`)

// gdalFeatures reads every feature of the file with GDAL and counts them.
func gdalFeatures(t *testing.T, file string) int {
	t.Helper()
	for _, args := range [][]string{{"-al", "-q", file}, {"-al", "-so", file}} {
		out, err := exec.Command("ogrinfo", args...).CombinedOutput()
		text := string(out)
		if err != nil || strings.Contains(text, "Warning") || strings.Contains(text, "ERROR") {
			at := max(0, strings.Index(text, "Warning"))
			t.Fatalf("ogrinfo %v: %v\n%.400s", args, err, text[at:])
		}
		if args[1] != "-so" {
			continue
		}
		sum := 0
		for _, m := range featureCount.FindAllStringSubmatch(text, -1) {
			n, _ := strconv.Atoi(m[1])
			sum += n
		}
		return sum
	}
	return 0
}
