#!/usr/bin/env bash
# Writes the survey in testdata/intake/points.geojson to the same folder in other formats, as
# GDAL writes them, some of them in feet of a State Plane zone (EPSG:2229).
#
# Needs ogr2ogr (Debian package gdal-bin). Run from the module root.
set -eu
cd testdata/intake
find . -type f ! -name points.geojson -delete
ogr2ogr --version > version.txt
feet=(-t_srs EPSG:2229)
ogr2ogr "${feet[@]}" -f GPKG feet.gpkg points.geojson -nln finds -lco SPATIAL_INDEX=NO
ogr2ogr "${feet[@]}" -f 'ESRI Shapefile' -lco ENCODING=UTF-8 feet.shp points.geojson 2>/dev/null
ogr2ogr "${feet[@]}" -f 'ESRI Shapefile' zipped.shz points.geojson 2>/dev/null
ogr2ogr -f CSV -lco GEOMETRY=AS_WKT text.csv points.geojson
ogr2ogr -f LIBKML map.kml points.geojson
ogr2ogr -f LIBKML map.kmz points.geojson
ogr2ogr -f GPX -dsco GPX_USE_EXTENSIONS=YES waypoints.gpx points.geojson 2>/dev/null
rm -f feet.shx
