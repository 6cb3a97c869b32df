package earth

import (
	"errors"
	"os/exec"
	"strconv"
	"strings"
	"testing"
)

// TestCodesOfOtherDatums: a code on a datum that is far from WGS 84 is refused for its datum, which the
// message names, and every other code for not being known.
func TestCodesOfOtherDatums(t *testing.T) {
	for code, datum := range map[string]string{
		"EPSG:4267": "NAD27", "epsg:26711": "NAD27", "urn:ogc:def:crs:EPSG::26722": "NAD27", "EPSG:23028": "ED50", "EPSG:27700": "OSGB36", "EPSG:29195": "SAD69",
	} {
		_, err := ParseCRS(code)
		if !errors.Is(err, ErrDatum) || !strings.Contains(err.Error(), "on the datum of "+datum+" may lie more than a metre from WGS 84") {
			t.Errorf("%s: %v", code, err)
		}
	}
	for _, code := range []string{"EPSG:26700", "EPSG:26723", "EPSG:4266", "EPSG:23027", "EPSG:23039", "EPSG:27701", "EPSG:1"} {
		if _, err := ParseCRS(code); err == nil || !strings.Contains(err.Error(), "is not among the codes known here") {
			t.Errorf("%s: %v", code, err)
		}
	}
}

// TestShiftedCodesAgainstPROJ: the first and the last code of each range are systems of that name in
// PROJ's database, of which none is known by code here.
func TestShiftedCodesAgainstPROJ(t *testing.T) {
	if _, err := exec.LookPath("projinfo"); err != nil {
		t.Skip("projinfo is not installed (proj-bin): codes are not compared with PROJ")
	}
	for _, s := range shiftedCodes {
		for _, code := range []int{s.first, s.last} {
			out, err := exec.Command("projinfo", "EPSG:"+strconv.Itoa(code), "-o", "WKT2:2019", "--single-line").CombinedOutput()
			if err != nil {
				t.Fatalf("EPSG:%d: %v: %s", code, err, out)
			}
			_, rest, _ := strings.Cut(string(out), `CRS["`)
			if name, _, _ := strings.Cut(rest, `"`); name != s.name && !strings.HasPrefix(name, s.name+" / ") {
				t.Errorf("EPSG:%d is %q, and not on %s", code, name, s.name)
			}
		}
	}
}
