package intake

import (
	"slices"

	"driftreach/geo/earth"
)

// The fields of a survey point, by their place in pointFields.
const (
	pointID = iota
	pointDate
	pointLon
	pointLat
	pointUncertainty
	pointOccurrence
	pointStatus
	pointArea
	pointLength
	pointWidth
	pointDiameter
	pointCover
	pointCoverClass
	pointHeight
	pointBy
	pointParcel
	pointRemarks
)

// pointFields are the columns of survey points. The first name is ours (Darwin
// Core where it has a term, https://dwc.tdwg.org/terms/); the others are common
// spellings of the same thing [C]. Case does not matter.
var pointFields = []fieldName{
	pointID:          {"occurrenceID", []string{"dwc:occurrenceID", "occurrence_id", "gpx:name"}},
	pointDate:        {"eventDate", []string{"dwc:eventDate", "event_date", "gpx:time", "kml:when", "kml:begin"}},
	pointLon:         {"decimalLongitude", []string{"dwc:decimalLongitude", "decimal_longitude", "longitude", "lon", "lng", "long", "x", "easting", "utm_easting", "utm_e", "point_x", "x_coord", "xcoord", "coord_x"}},
	pointLat:         {"decimalLatitude", []string{"dwc:decimalLatitude", "decimal_latitude", "latitude", "lat", "y", "northing", "utm_northing", "utm_n", "point_y", "y_coord", "ycoord", "coord_y"}},
	pointUncertainty: {"coordinateUncertaintyInMeters", []string{"dwc:coordinateUncertaintyInMeters", "coordinate_uncertainty_in_meters", "coordinate_uncertainty_m"}},
	pointOccurrence:  {"occurrenceStatus", []string{"dwc:occurrenceStatus", "occurrence_status"}},
	pointStatus:      {"management_status", []string{"managementStatus"}},
	pointArea:        {"patch_area_m2", nil},
	pointLength:      {"patch_length_m", nil},
	pointWidth:       {"patch_width_m", nil},
	pointDiameter:    {"patch_diameter_m", nil},
	pointCover:       {"canopy_cover_percent", nil},
	pointCoverClass:  {"canopy_cover_class", nil},
	pointHeight:      {"stem_height_m", nil},
	pointBy:          {"recordedBy", []string{"dwc:recordedBy", "recorded_by"}},
	pointParcel:      {"parcel", nil},
	pointRemarks:     {"occurrenceRemarks", []string{"dwc:occurrenceRemarks", "occurrence_remarks", "gpx:desc"}},
}

// projectedFields are pointFields with the names of projected coordinates
// before those of degrees.
func projectedFields() []fieldName {
	fields := slices.Clone(pointFields)
	for _, i := range []int{pointLon, pointLat} {
		also := fields[i].also
		first := slices.IndexFunc(also, func(name string) bool { return name == "x" || name == "y" })
		fields[i].also = append(slices.Clone(also[first:]), also[:first]...)
	}
	return fields
}

// PointFields returns the names of the fields of a survey point, in order.
func PointFields() []string { return names(pointFields) }

// StreamFields returns the names of the fields of a stream line, in order.
func StreamFields() []string { return names(streamFields) }

func names(fields []fieldName) []string {
	out := make([]string, len(fields))
	for i, f := range fields {
		out[i] = f.name
	}
	return out
}

// fieldsFor returns the fields of points in the reference system asked for.
func fieldsFor(definition string) []fieldName {
	if c, err := earth.ParseCRS(definition); err == nil && !c.IsGeographic() {
		return projectedFields()
	}
	return pointFields
}
