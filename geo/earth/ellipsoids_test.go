package earth

// Ellipsoids of published examples. Files name theirs by its radii.
var (
	// clarke1866 is the ellipsoid of NAD 27. Radii from Snyder, USGS
	// Professional Paper 1395 (1987), table 1.
	clarke1866 = Ellipsoid{A: 6378206.4, F: 1 - 6356583.8/6378206.4}
	// international1924 is the ellipsoid of ED 50. Snyder 1987, table 1.
	international1924 = Ellipsoid{A: 6378388, F: 1.0 / 297}
	// bessel1841 is the ellipsoid of many national grids. EPSG ellipsoid 7004.
	bessel1841 = Ellipsoid{A: 6377397.155, F: 1 / 299.1528128}
	// airy1830 is the ellipsoid of the Ordnance Survey grid. EPSG ellipsoid 7001.
	airy1830 = Ellipsoid{A: 6377563.396, F: 1 / 299.3249646}
)
