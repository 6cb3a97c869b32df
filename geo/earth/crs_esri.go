package earth

import "fmt"

// firstESRI is the lowest of ESRI's codes known here. EPSG has no codes above 69999 (EPSG Guidance
// Note 7-1), so such a number means ESRI's system even after the prefix EPSG, which many files
// write.
const firstESRI = 102001

// esriCodes are the systems known by an ESRI code: those commonly used for continent-wide layers.
// [P] ESRI's reference systems as listed by PROJ 9.1.1; compared with PROJ.
var esriCodes = []coded{
	{102001, "Canada_Albers_Equal_Area_Conic", "NAD83", "Albers", values(40, -96, 50, 70, 0, 0), 0},
	{102002, "Canada_Lambert_Conformal_Conic", "NAD83", "Lambert_Conformal_Conic", values(40, -96, 50, 70, 0, 0), 0},
	{102003, "USA_Contiguous_Albers_Equal_Area_Conic", "NAD83", "Albers", values(37.5, -96, 29.5, 45.5, 0, 0), 0},
	{102004, "USA_Contiguous_Lambert_Conformal_Conic", "NAD83", "Lambert_Conformal_Conic", values(39, -96, 33, 45, 0, 0), 0},
	{102006, "NAD_1983_Alaska_Albers", "NAD83", "Albers", values(50, -154, 55, 65, 0, 0), 0},
	{102007, "Hawaii_Albers_Equal_Area_Conic", "NAD83", "Albers", values(13, -157, 8, 18, 0, 0), 0},
	{102008, "North_America_Albers_Equal_Area_Conic", "NAD83", "Albers", values(40, -96, 20, 60, 0, 0), 0},
	{102009, "North_America_Lambert_Conformal_Conic", "NAD83", "Lambert_Conformal_Conic", values(40, -96, 20, 60, 0, 0), 0},
	{102012, "Asia_Lambert_Conformal_Conic", "", "Lambert_Conformal_Conic", values(0, 105, 30, 62, 0, 0), 0},
	{102017, "North_Pole_Lambert_Azimuthal_Equal_Area", "", "Lambert_Azimuthal_Equal_Area", values(90, 0, 0, 0, 0, 0), 0},
	{102020, "South_Pole_Lambert_Azimuthal_Equal_Area", "", "Lambert_Azimuthal_Equal_Area", values(-90, 0, 0, 0, 0, 0), 0},
	{102022, "Africa_Albers_Equal_Area_Conic", "", "Albers", values(0, 25, 20, -23, 0, 0), 0},
	{102025, "Asia_North_Albers_Equal_Area_Conic", "", "Albers", values(30, 95, 15, 65, 0, 0), 0},
	{102027, "Asia_North_Lambert_Conformal_Conic", "", "Lambert_Conformal_Conic", values(30, 95, 15, 65, 0, 0), 0},
	{102028, "Asia_South_Albers_Equal_Area_Conic", "", "Albers", values(-15, 125, 7, -32, 0, 0), 0},
	{102039, "USA_Contiguous_Albers_Equal_Area_Conic_USGS_version", "NAD83", "Albers", values(23, -96, 29.5, 45.5, 0, 0), 0},
}

// complexBase plus the zone is the code of a zone "Complex_UTM". These zones are on both sides of
// the Atlantic, 20 to 30 north, and their .prj files name the method Transverse_Mercator_Complex:
// another series for the same projection.
const complexBase, firstComplex, lastComplex = 102550, 20, 30

func esriCRS(code int) (CRS, error) {
	for _, c := range esriCodes {
		if c.code == code {
			return c.crs()
		}
	}
	if zone := code - complexBase; zone >= firstComplex && zone <= lastComplex {
		p := UTMParameters(Ellipsoid{}, zone, false)
		return coded{code, fmt.Sprintf("WGS_1984_Complex_UTM_Zone_%dN", zone), "", "Transverse_Mercator_Complex",
			scaled(values(0, p.Lon0, 0, 0, float64(p.FalseEasting), float64(p.FalseNorthing)), p.K0), 0}.crs()
	}
	return CRS{}, fmt.Errorf("ESRI:%d is not among the codes known here: its definition is needed as WKT, for example a .prj file: %w", code, ErrUnsupported)
}
