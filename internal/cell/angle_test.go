package cell

import (
	"math"
	"testing"
)

// TestParseAngle: values by hand; the axis is longitude.
func TestParseAngle(t *testing.T) {
	want := -(117 + 14.0/60 + 30.6/3600)
	for _, text := range []string{
		"117°14'30.6\"W", "117° 14′ 30.6″ W", "W 117 14 30.6", "w117°14'30.6''", "-117 14 30.6", "-117:14:30.6", "117-14-30.6W", "117d14m30.6sW", "117d 14m 30.6s w",
		"117º14’30.6”W", "\u2212117°14'30.6\"", "117 14.51 W", "117°14.51'W", "W117.241833333333333", "117.241833333333333° W", "-117.241833333333333°",
		`117 deg 14' 30.60" W`, `117° 14' 30.6" West`, "117 degrees 14 min 30.6 sec W", "West 117Deg14'30.6\"",
	} {
		if v, kind := ParseAngle([]byte(text), false, "WE"); kind != GoodNumber || math.Abs(v-want) > 1e-12 {
			t.Errorf("%q is %.12f (%d), want %.12f", text, v, kind, want)
		}
	}
	if v, kind := ParseAngle([]byte("117°14'30,6\" E"), true, "WE"); kind != GoodNumber || math.Abs(v+want) > 1e-12 {
		t.Errorf("with a decimal comma: %v", v)
	}
	for _, text := range []string{"117 14", "12m", "117°60'W", "117°14'60\"", "-117°W", "117°W W", "117 14 30.6 5", "117.5 14 W", "north", "117N", "W", "°", "5 6 7 8", "1,2", "117°14'30.6\"S", "--117°", "1_0", "٣°"} {
		if v, kind := ParseAngle([]byte(text), false, "WE"); kind == GoodNumber {
			t.Errorf("%q is read as %v", text, v)
		}
	}
	// the bytes after the cell belong to the next one
	row := []byte("5°|next")
	if ParseAngle(row[:3], false, "WE"); string(row) != "5°|next" {
		t.Errorf("the row is now %q", row)
	}
}
