package intake

import (
	"slices"

	"driftreach/geo/earth"
	"driftreach/internal/cell"
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
	pointID:          {name: "occurrenceID", also: []string{"dwc:occurrenceID", "occurrence_id", "gpx:name"}},
	pointDate:        {name: "eventDate", also: []string{"dwc:eventDate", "event_date", "gpx:time", "kml:when", "kml:begin"}, in: cell.Day},
	pointLon:         {name: "decimalLongitude", also: []string{"dwc:decimalLongitude", "decimal_longitude", "longitude", "lon", "lng", "long", "x", "easting", "utm_easting", "utm_e", "point_x", "x_coord", "xcoord", "coord_x"}},
	pointLat:         {name: "decimalLatitude", also: []string{"dwc:decimalLatitude", "decimal_latitude", "latitude", "lat", "y", "northing", "utm_northing", "utm_n", "point_y", "y_coord", "ycoord", "coord_y"}},
	pointUncertainty: {name: "coordinateUncertaintyInMeters", also: []string{"dwc:coordinateUncertaintyInMeters", "coordinate_uncertainty_in_meters", "coordinate_uncertainty_m"}, in: cell.Metre},
	pointOccurrence: {name: "occurrenceStatus", also: []string{"dwc:occurrenceStatus", "occurrence_status"}, words: theirs{
		"detected":    {"yes", "y", "true", "t", "1", "found", "presence", "seen", "positive", "pos", "+", "ja", "si", "sí", "oui", "x", "✓"},
		"notDetected": {"no", "n", "false", "f", "0", "notfound", "notpresent", "notseen", "none", "absence", "negative", "neg", "gone", "nein", "non", "eradicated"},
	}},
	pointStatus: {name: "management_status", also: []string{"managementStatus"}, words: theirs{
		"untreated":     {"live", "alive", "active", "new", "none", "notreatment", "growing", "green", "livecanes", "nottreated"},
		"treated":       {"sprayed", "cut", "treatment", "treatedonce", "complete", "completed", "done", "herbicide", "cutstump", "treatedthisyear", "intreatment"},
		"resprout":      {"resprouts", "resprouting", "regrowth", "regrowing", "retreat", "retreatment"},
		"standing_dead": {"dead", "deadstanding", "standingdead", "deadcanes", "drydead"},
	}},
	pointArea:       {name: "patch_area_m2", in: cell.SquareMetre},
	pointLength:     {name: "patch_length_m", in: cell.Metre},
	pointWidth:      {name: "patch_width_m", in: cell.Metre},
	pointDiameter:   {name: "patch_diameter_m", in: cell.Metre},
	pointCover:      {name: "canopy_cover_percent", in: cell.Percent},
	pointCoverClass: {name: "canopy_cover_class", words: theirs{}},
	pointHeight:     {name: "stem_height_m", in: cell.Metre},
	pointBy:         {name: "recordedBy", also: []string{"dwc:recordedBy", "recorded_by"}},
	pointParcel:     {name: "parcel"},
	pointRemarks:    {name: "occurrenceRemarks", also: []string{"dwc:occurrenceRemarks", "occurrence_remarks", "gpx:desc"}},
}

// recognisedPoints are names of columns in survey sheets, field apps and
// databases [C]. They are proposed, never taken without being asked.
var recognisedPoints = []recognised{
	{"occurrenceID", different, []string{"id", "recordid", "objectid", "globalid", "uuid", "guid", "siteid", "pointid", "findno", "findid", "no", "number", "fid", "sitename", "point", "waypoint", "occurrence", "name", "featureid", "obsid", "observationid", "surveyid", "recid", "rowid", "key", "sampleid", "plantid", "patchid", "standid", "recno", "recordno", "siteno", "pointno", "index"}},
	{"eventDate", dates, []string{"date", "surveydate", "visitdate", "observationdate", "obsdate", "datetime", "timestamp", "created", "creationdate", "seen", "dateobserved", "datum", "fecha", "survdate", "survdt", "datesurveyed", "datevisited", "dateofsurvey", "dateofvisit", "datecollected", "collectiondate", "collectdate", "collected", "obsdatetime", "observed", "observedon", "inspectiondate", "inspdate", "fielddate", "eventdatetime", "gpsdate", "gpstime", "fixtime", "localtime", "time", "day", "today", "start", "starttime", "createdat", "createddate", "datecreated", "submissiontime", "submissiondate", "submitted", "fechadevisita", "visit"}},
	{"decimalLongitude", anything, []string{"longitud", "longdd", "londd", "xlong", "gpslongitude", "gpslon", "pointlon", "xlon", "ost", "wgs84lon", "lonwgs84", "longwgs84", "longdec", "decimallong", "declong", "declon", "londec", "lond", "longd", "xlongitude", "startlon", "gpsx", "xwgs84", "geolon", "positionlong", "gpslong", "locationlongitude", "geopointlongitude"}},
	{"decimalLatitude", anything, []string{"latitud", "latdd", "ylat", "gpslatitude", "gpslat", "pointlat", "nord", "wgs84lat", "latwgs84", "latdec", "decimallat", "declat", "latd", "startlat", "gpsy", "ywgs84", "geolat", "positionlat", "locationlatitude", "geopointlatitude", "ylatitude"}},
	{"coordinateUncertaintyInMeters", numbers, []string{"accuracy", "gpsaccuracy", "horizontalaccuracy", "haccuracy", "hacc", "uncertainty", "precision", "esriignssh", "esrignsshrms", "gpsacc", "acc", "gpsprecision", "gpserror", "error", "epe", "hrms", "hzprec", "horzprec", "horizontalprecision", "estacc", "positionaccuracy", "locationaccuracy", "geopointprecision", "accuracym"}},
	{"occurrenceStatus", fewWords, nil}, // proposed by presence
	{"management_status", fewWords, []string{"status", "condition", "treatment", "treatmentstatus", "state", "zustand", "management", "plantstatus", "standstatus", "livedead", "treatstatus", "trtstatus", "mgmtstatus"}},
	{"patch_area_m2", numbers, []string{"area", "patcharea", "patchsize", "size", "infestedarea", "infestationarea", "grossarea", "acres", "hectares", "sqft", "ft2", "m2", "sqm", "shapearea", "patch", "canearea", "standarea", "plantarea", "areainfested", "infested", "infestedacres", "infacres", "estarea", "areaest", "estimatedarea", "patchacres", "squarefeet", "squaremeters", "areaacres", "flaeche", "fläche", "superficie", "surfacearea", "polygonarea", "calcarea", "gisacres", "ac", "ha"}},
	{"patch_length_m", numbers, []string{"length", "patchlength", "len", "lengthpatch", "standlength", "patchlen"}},
	{"patch_width_m", numbers, []string{"width", "patchwidth", "wid", "wdth", "patchwid", "standwidth"}},
	{"patch_diameter_m", numbers, []string{"diameter", "patchdiameter", "diam", "dia", "clumpdiameter", "standdiameter"}},
	{"canopy_cover_percent", numbers, []string{"cover", "canopycover", "percentcover", "pctcover", "coverpct", "coverpercent", "canopy", "%cover", "cover%", "pctcov", "percentcanopy", "canopypercent", "covpct", "cov", "abscover", "absolutecover", "percent", "canopycov"}},
	{"canopy_cover_class", anything, []string{"coverclass", "canopyclass", "densityclass", "canopycoverclass", "covclass", "covercl", "coverclasscode", "daubenmire"}},
	{"stem_height_m", numbers, []string{"height", "stemheight", "canopyheight", "plantheight", "maxheight", "ht", "stemht", "canopyht", "caneheight", "hgt", "maxht", "avgheight", "meanheight", "hoehe"}},
	{"recordedBy", anything, []string{"observer", "surveyor", "crew", "collector", "recorder", "creator", "staff", "surveyedby", "observedby", "by", "initials", "observers", "surveyors", "observername", "surveyorname", "recordername", "username", "user", "createdby", "teammember", "team", "fieldcrew", "inspector", "enumerator", "personnel"}},
	{"parcel", anything, []string{"apn", "parcelid", "parcelno", "lot", "lotno", "property", "landowner", "ain", "parcelnumber", "parcelnum", "apnno", "tract"}},
	{"occurrenceRemarks", anything, []string{"notes", "note", "comments", "comment", "remarks", "remark", "description", "desc", "memo", "observations", "fieldnotes", "sitenotes", "rem"}},
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
