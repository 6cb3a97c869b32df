package earth

import (
	"errors"
	"math"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// Zones and bands from NGA.SIG.0012 (2014), section 3, at their edges.
func TestUTMZonesAndBands(t *testing.T) {
	for _, tt := range []struct {
		at   orb.Point
		want string
	}{
		{orb.Point{-180, 10}, "1P"}, {orb.Point{180, 10}, "1P"}, {orb.Point{179.999, 10}, "60P"}, {orb.Point{-120.0001, 35}, "10S"}, {orb.Point{-120, 35}, "11S"},
		{orb.Point{-117, 0}, "11N"}, {orb.Point{-117, -0.0001}, "11M"}, {orb.Point{-58.4, -34.6}, "21H"}, {orb.Point{0, -80}, "31C"}, {orb.Point{0, 84}, "31X"},
		{orb.Point{2.9999, 60}, "31V"}, {orb.Point{3, 60}, "32V"}, {orb.Point{5, 55.9999}, "31U"}, {orb.Point{5, 64}, "31W"},
		{orb.Point{8.9999, 78}, "31X"}, {orb.Point{9, 78}, "33X"}, {orb.Point{20.9999, 78}, "33X"}, {orb.Point{21, 78}, "35X"}, {orb.Point{33, 78}, "37X"}, {orb.Point{41.9999, 72}, "37X"}, {orb.Point{42, 72}, "38X"},
	} {
		u, err := UTMOf(tt.at)
		if got := strconv.Itoa(u.Zone) + string(u.Band); err != nil || got != tt.want {
			t.Errorf("UTMOf(%v) lies in %s, %v; want %s", tt.at, got, err, tt.want)
		}
		if below := tt.at[1] < 0; south(u) != below {
			t.Errorf("UTMOf(%v) south: %v, want %v", tt.at, south(u), below)
		}
	}
	for _, at := range []orb.Point{{0, 84.0001}, {0, -80.0001}, {0, math.NaN()}, {math.Inf(1), 0}} {
		if _, err := UTMOf(at); !errors.Is(err, ErrOutside) {
			t.Errorf("UTMOf(%v): %v, want ErrOutside", at, err)
		}
	}
}

// south returns whether a place is south of the equator, where northings have 10,000 km added.
func south(u UTMPlace) bool { return u.Band < 'N' }

// PROJ (reference program, Debian's proj-bin) gives the same zone and the same metres, to the
// millimetre that it prints.
func TestUTMAgainstPROJ(t *testing.T) {
	if _, err := exec.LookPath("cs2cs"); err != nil {
		t.Skip("cs2cs is not installed (proj-bin): places of the grid are not held against PROJ")
	}
	for _, at := range []orb.Point{{-118.25, 34.05}, {-58.4, -34.6}, {149.1, -35.3}, {5.3, 60.4}, {15.6, 78.2}, {0.0001, 0.0001}, {179.99, -17.5}, {-179.99, -17.5}, {9, 84}} {
		u, err := UTMOf(at)
		if err != nil {
			t.Fatal(err)
		}
		code := 32600 + u.Zone
		if south(u) {
			code += 100
		}
		ask := exec.Command("cs2cs", "-f", "%.3f", "EPSG:4326", "EPSG:"+strconv.Itoa(code))
		ask.Stdin = strings.NewReader(strconv.FormatFloat(at[1], 'f', -1, 64) + " " + strconv.FormatFloat(at[0], 'f', -1, 64) + "\n")
		out, err := ask.Output()
		if err != nil {
			t.Fatal(err)
		}
		words := strings.Fields(string(out))
		x, _ := strconv.ParseFloat(words[0], 64)
		y, _ := strconv.ParseFloat(words[1], 64)
		near(t, "easting", float64(u.Easting), x, 0.0006)
		near(t, "northing", float64(u.Northing), y, 0.0006) // half of the last printed digit
	}
}

// Converting a grid place to longitude and latitude and back gives the same place.
func TestUTMThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := orb.Point{rapid.Float64Range(-180, 179.999).Draw(t, "lon"), rapid.Float64Range(-80, 84).Draw(t, "lat")}
		u, err := UTMOf(at)
		if err != nil {
			t.Fatal(err)
		}
		grid, err := UTM(u.Zone, south(u))
		if err != nil {
			t.Fatal(err)
		}
		back, err := grid.Inverse(orb.Point{float64(u.Easting), float64(u.Northing)})
		if err != nil {
			t.Fatal(err)
		}
		if d := Distance(at, back); !(d < 1e-6) {
			t.Fatalf("%v comes back %v m away", at, d)
		}
	})
}
