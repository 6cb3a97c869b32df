package earth

import (
	"slices"
	"strconv"
	"strings"
)

// CRSCodes returns the EPSG codes that ParseCRS knows, sorted.
func CRSCodes() []int {
	var all []int
	for _, c := range codes {
		all = append(all, c.code)
	}
	for _, z := range zones {
		for zone := z.first; zone <= z.last; zone++ {
			all = append(all, z.base+zone)
		}
	}
	for _, c := range familyCodes {
		all = append(all, c.code)
	}
	for _, d := range nullDatums {
		if d.code != 0 {
			all = append(all, d.code)
		}
	}
	all = append(all, statePlaneCodes()...)
	slices.Sort(all)
	return all
}

// ESRICodes returns the ESRI codes that ParseCRS knows, sorted, except those two (102100 and
// 102113) that are EPSG:3857.
func ESRICodes() []int {
	var all []int
	for _, c := range esriCodes {
		all = append(all, c.code)
	}
	for zone := firstComplex; zone <= lastComplex; zone++ {
		all = append(all, complexBase+zone)
	}
	return all
}

// statePlaneCodes returns every code of a zone, in the order of the table.
func statePlaneCodes() []int {
	var all []int
	statePlaneZones(func(_, _, systems []string) bool {
		for _, system := range systems {
			_, text, _ := strings.Cut(system, "=")
			code, _ := strconv.Atoi(text) // the test reads every line
			all = append(all, code)
		}
		return true
	})
	return all
}

// NewWebMercator returns the projection of web maps: spherical formulas with WGS
// 84 latitudes, EPSG 3857. Its scale is wrong by up to 0.7 % over Mercator's own:
// for reading and drawing only, never for measuring.
func NewWebMercator() Mercator {
	m, err := NewMercator(Parameters{Ellipsoid: WebMercatorSphere, K0: 1})
	if err != nil {
		panic(err) // the constants above are in range
	}
	return m
}
