package earth

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
)

// TestEveryProjectionHasASystem: every projection in the package belongs to a reference system in
// use, which testdata/crs has with PROJ's positions: those common in practice, and at least one of
// each rare method. A projection that none uses must be removed.
func TestEveryProjectionHasASystem(t *testing.T) {
	users := map[string][]string{}
	for _, s := range systems(t) {
		if s.Refused {
			continue
		}
		for _, text := range s.forms() {
			if c, err := ParseCRS(text); text != "" && err == nil && !c.IsGeographic() {
				kind := strings.TrimPrefix(fmt.Sprintf("%T", c.projection), "earth.")
				if !slices.Contains(users[kind], s.name()) {
					users[kind] = append(users[kind], s.name())
				}
			}
		}
	}
	rare := map[string]string{
		"CassiniSoldner":          "EPSG:3380 EPSG:3385",                      // GDM2000, Malaysia
		"ColombiaUrban":           "EPSG:6247 EPSG:6256",                      // MAGNA-SIRGAS, towns
		"TransverseMercatorSouth": "EPSG:2054",                                // Hartebeesthoek94
		"ObliqueStereographic":    "EPSG:2953 EPSG:2954",                      // New Brunswick, Prince Edward Island
		"Polyconic":               "EPSG:5880",                                // SIRGAS 2000, Brazil
		"ObliqueMercator":         "EPSG:26931 EPSG:3078 EPSG:6843 EPSG:6497", // Alaska 1, Michigan, Oregon
	}
	for kind, want := range rare {
		for _, name := range strings.Fields(want) {
			if !slices.Contains(users[kind], name) {
				t.Errorf("%s is not what %s is read as: %v", kind, name, users[kind])
			}
		}
	}
	kinds := slices.Sorted(maps.Keys(users))
	want := []string{"Albers", "CassiniSoldner", "ColombiaUrban", "LambertAzimuthal", "LambertConformal", "Mercator", "ObliqueMercator", "ObliqueStereographic",
		"PolarStereographic", "Polyconic", "TransverseMercator", "TransverseMercatorSouth"}
	if !slices.Equal(kinds, want) {
		t.Errorf("systems use %v, the projections are %v", kinds, want)
	}
	for name, build := range methods {
		p, err := build(&definition{parameters: map[string]float64{"azimuth": 40}}, Parameters{Ellipsoid: GRS80, Lat0: 40, Lat1: 40, Lat2: 50, K0: 1, Azimuth: 40})
		if err != nil {
			p, err = build(&definition{}, Parameters{Ellipsoid: GRS80, Lat0: 90, Lat1: 70, K0: 1})
		}
		if err != nil {
			t.Errorf("method %s: %v", name, err)
			continue
		}
		if kind := strings.TrimPrefix(fmt.Sprintf("%T", p), "earth."); len(users[kind]) == 0 {
			t.Errorf("method %s makes a %s, which no system uses", name, kind)
		}
	}
}

// TestCodesGiveWhatMethodsTake: the tables give no standard parallels to a method without them, and
// no second one to a method with one. [P] EPSG Guidance Note 7-2, parameters of methods 9807, 9810,
// 9818, 9820, 9829.
func TestCodesGiveWhatMethodsTake(t *testing.T) {
	without := map[string][]string{
		"Transverse Mercator": {"lat1", "lat2"}, "Lambert Azimuthal Equal Area": {"lat1", "lat2"}, "American Polyconic": {"lat1", "lat2"},
		"Polar Stereographic (variant A)": {"lat1", "lat2"}, "Polar Stereographic (variant B)": {"lat0", "lat2"},
	}
	met := map[string]bool{}
	for _, c := range codes {
		for _, name := range without[c.method] {
			met[c.method] = true
			if c.values[name] != 0 {
				t.Errorf("EPSG:%d, %s: %s is %v, which the method has not", c.code, c.method, name, c.values[name])
			}
		}
	}
	if len(met) != len(without) {
		t.Errorf("the table has systems of %v only", slices.Sorted(maps.Keys(met)))
	}
}
