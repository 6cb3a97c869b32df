package intake

import (
	"slices"

	"driftreach/geo/earth"
	"driftreach/internal/cell"
	"driftreach/internal/column"
)

// The fields of a survey point, by their index in pointFields.
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
var pointFields = []column.Field{
	pointID:          {Name: "occurrenceID", Also: []string{"dwc:occurrenceID", "occurrence_id", "gpx:name"}},
	pointDate:        {Name: "eventDate", Also: []string{"dwc:eventDate", "event_date", "gpx:time", "kml:when", "kml:begin"}, In: cell.Day},
	pointLon:         {Name: "decimalLongitude", Also: []string{"dwc:decimalLongitude", "decimal_longitude", "longitude", "lon", "lng", "long", "x", "easting", "utm_easting", "utm_e", "east", "rechtswert", "point_x", "x_coord", "xcoord", "coord_x"}},
	pointLat:         {Name: "decimalLatitude", Also: []string{"dwc:decimalLatitude", "decimal_latitude", "latitude", "lat", "y", "northing", "utm_northing", "utm_n", "north", "hochwert", "point_y", "y_coord", "ycoord", "coord_y"}},
	pointUncertainty: {Name: "coordinateUncertaintyInMeters", Also: []string{"dwc:coordinateUncertaintyInMeters", "coordinate_uncertainty_in_meters", "coordinate_uncertainty_m"}, In: cell.Metre},
	pointOccurrence: {Name: "occurrenceStatus", Also: []string{"dwc:occurrenceStatus", "occurrence_status"}, Words: column.Theirs{
		"detected":    {"yes", "y", "true", "t", "1", "found", "presence", "seen", "positive", "pos", "+", "ja", "si", "sí", "oui", "x", "✓"},
		"notDetected": {"no", "n", "false", "f", "0", "notfound", "nonefound", "nothingfound", "undetected", "notpresent", "notseen", "noneseen", "none", "absence", "negative", "neg", "gone", "nein", "non", "eradicated"},
	}},
	pointStatus: {Name: "management_status", Also: []string{"managementStatus"}, Words: column.Theirs{
		"untreated":     {"live", "alive", "active", "new", "none", "notreatment", "growing", "green", "livecanes", "nottreated"},
		"treated":       {"sprayed", "cut", "treatment", "treatedonce", "complete", "completed", "done", "herbicide", "cutstump", "treatedthisyear", "intreatment"},
		"resprout":      {"resprouts", "resprouting", "regrowth", "regrowing", "retreat", "retreatment"},
		"standing_dead": {"dead", "deadstanding", "standingdead", "deadcanes", "drydead"},
	}},
	pointArea:       {Name: "patch_area_m2", In: cell.SquareMetre},
	pointLength:     {Name: "patch_length_m", In: cell.Metre},
	pointWidth:      {Name: "patch_width_m", In: cell.Metre},
	pointDiameter:   {Name: "patch_diameter_m", In: cell.Metre},
	pointCover:      {Name: "canopy_cover_percent", In: cell.Percent},
	pointCoverClass: {Name: "canopy_cover_class", Words: column.Theirs{}, Decides: true},
	pointHeight:     {Name: "stem_height_m", In: cell.Metre},
	pointBy:         {Name: "recordedBy", Also: []string{"dwc:recordedBy", "recorded_by"}},
	pointParcel:     {Name: "parcel"},
	pointRemarks:    {Name: "occurrenceRemarks", Also: []string{"dwc:occurrenceRemarks", "occurrence_remarks", "gpx:desc"}},
}

// recognisedPoints are names of columns in survey sheets, field apps and databases [C], also in Spanish,
// Portuguese, French, Italian and German, without accents. They are only proposed, and used only if the
// settings name them.
var recognisedPoints = []column.Recognised{
	column.Elsewhere("occurrenceID", column.Different, "id", "recordid", "objectid", "globalid", "uuid", "guid", "siteid", "pointid", "findno", "findid", "no", "number", "fid", "sitename", "point", "waypoint", "occurrence", "name", "featureid", "obsid", "observationid", "surveyid", "recid", "rowid", "key", "sampleid", "plantid", "patchid", "standid", "recno", "recordno", "siteno", "pointno", "index", "site", "nr", "codigo", "numero", "nummer", "num", "n", "identificador", "identifiant", "ficha", "lfdnr"),
	column.Elsewhere("eventDate", column.Dates, "date", "surveydate", "visitdate", "observationdate", "obsdate", "datetime", "timestamp", "created", "creationdate", "seen", "dateobserved", "datum", "fecha", "survdate", "survdt", "datesurveyed", "datevisited", "dateofsurvey", "dateofvisit", "datecollected", "collectiondate", "collectdate", "collected", "obsdatetime", "observed", "observedon", "inspectiondate", "inspdate", "fielddate", "eventdatetime", "gpsdate", "gpstime", "fixtime", "localtime", "time", "day", "today", "start", "starttime", "createdat", "createddate", "datecreated", "submissiontime", "submissiondate", "submitted", "fechadevisita", "visit", "data", "dia", "fechavisita", "fechamuestreo", "datavisita", "datevisite", "datedevisite", "datedereleve", "datereleve", "erfassungsdatum", "aufnahmedatum", "begehungsdatum"),
	column.Elsewhere("decimalLongitude", column.Anything, "longitud", "longdd", "londd", "xlong", "gpslongitude", "gpslon", "pointlon", "xlon", "ost", "wgs84lon", "lonwgs84", "longwgs84", "longdec", "decimallong", "declong", "declon", "londec", "lond", "longd", "xlongitude", "startlon", "gpsx", "xwgs84", "geolon", "positionlong", "gpslong", "locationlongitude", "geopointlongitude", "longitudine", "laengengrad", "langengrad", "coordx", "coordenadax", "coordonneex", "este", "ostwert"),
	column.Elsewhere("decimalLatitude", column.Anything, "latitud", "latdd", "ylat", "gpslatitude", "gpslat", "pointlat", "nord", "wgs84lat", "latwgs84", "latdec", "decimallat", "declat", "latd", "startlat", "gpsy", "ywgs84", "geolat", "positionlat", "locationlatitude", "geopointlatitude", "ylatitude", "latitudine", "breitengrad", "coordy", "coordenaday", "coordonneey", "norte", "nordwert"),
	column.Elsewhere("coordinateUncertaintyInMeters", column.Numbers, "accuracy", "gpsaccuracy", "horizontalaccuracy", "haccuracy", "hacc", "uncertainty", "precision", "esriignssh", "esrignsshrms", "gpsacc", "acc", "gpsprecision", "gpserror", "error", "epe", "hrms", "hzprec", "horzprec", "horizontalprecision", "estacc", "positionaccuracy", "locationaccuracy", "geopointprecision", "accuracym", "precisiongps", "exactitud", "precisao", "precisione", "genauigkeit"),
	column.Elsewhere("occurrenceStatus", column.FewWords), // presence.go proposes it
	column.Elsewhere("management_status", column.FewWords, "status", "condition", "treatment", "treatmentstatus", "state", "zustand", "management", "plantstatus", "standstatus", "livedead", "treatstatus", "trtstatus", "mgmtstatus", "estado", "situacion", "situacao", "etat", "statut", "stato"),
	column.Elsewhere("patch_area_m2", column.Numbers, "area", "patcharea", "patchsize", "size", "infestedarea", "infestationarea", "grossarea", "acres", "hectares", "sqft", "ft2", "m2", "sqm", "shapearea", "patch", "canearea", "standarea", "plantarea", "areainfested", "infested", "infestedacres", "infacres", "estarea", "areaest", "estimatedarea", "patchacres", "squarefeet", "squaremeters", "areaacres", "flaeche", "flache", "superficie", "surfacearea", "polygonarea", "calcarea", "gisacres", "ac", "ha", "surface", "grosse", "groesse", "tamano", "tamanho", "superficieinfestada", "areainfestada", "areaocupada", "areaafectada", "hectareas"),
	column.Elsewhere("patch_length_m", column.Numbers, "length", "patchlength", "len", "lengthpatch", "standlength", "patchlen", "largo", "comprimento", "longueur", "lunghezza"),
	column.Elsewhere("patch_width_m", column.Numbers, "width", "patchwidth", "wid", "wdth", "patchwid", "standwidth", "ancho", "anchura", "largura", "largeur", "larghezza"),
	column.Elsewhere("patch_diameter_m", column.Numbers, "diameter", "patchdiameter", "diam", "dia", "clumpdiameter", "standdiameter", "diametro", "diametre", "durchmesser"),
	column.Elsewhere("canopy_cover_percent", column.Numbers, "cover", "canopycover", "percentcover", "pctcover", "coverpct", "coverpercent", "canopy", "%cover", "cover%", "pctcov", "percentcanopy", "canopypercent", "covpct", "cov", "abscover", "absolutecover", "percent", "canopycov", "cobertura", "porcentajecobertura", "recouvrement", "couvert", "deckung", "deckungsgrad", "copertura"),
	column.Elsewhere("canopy_cover_class", column.Anything, "coverclass", "canopyclass", "densityclass", "canopycoverclass", "covclass", "covercl", "coverclasscode", "daubenmire"),
	column.Elsewhere("stem_height_m", column.Numbers, "height", "stemheight", "canopyheight", "plantheight", "maxheight", "ht", "stemht", "canopyht", "caneheight", "hgt", "maxht", "avgheight", "meanheight", "hoehe", "altura", "hauteur", "altezza", "hohe"),
	column.Elsewhere("recordedBy", column.Anything, "observer", "surveyor", "crew", "collector", "recorder", "creator", "staff", "surveyedby", "observedby", "by", "initials", "observers", "surveyors", "observername", "surveyorname", "recordername", "username", "user", "createdby", "teammember", "team", "fieldcrew", "inspector", "enumerator", "personnel", "observador", "observateur", "osservatore", "beobachter", "tecnico", "responsable", "equipo", "equipe", "cuadrilla", "bearbeiter"),
	column.Elsewhere("parcel", column.Anything, "apn", "parcelid", "parcelno", "lot", "lotno", "property", "landowner", "ain", "parcelnumber", "parcelnum", "apnno", "tract", "parcela", "parcelle", "particella", "predio", "flurstuck", "flurstueck"),
	column.Elsewhere("occurrenceRemarks", column.Anything, "notes", "note", "comments", "comment", "remarks", "remark", "description", "desc", "memo", "observations", "fieldnotes", "sitenotes", "rem", "observacion", "observaciones", "observacao", "observacoes", "notas", "comentario", "comentarios", "remarques", "commentaire", "commentaires", "osservazioni", "bemerkung", "bemerkungen"),
}

// projectedFields are pointFields with the names of projected coordinates before those of degrees.
func projectedFields() []column.Field {
	fields := slices.Clone(pointFields)
	for _, i := range []int{pointLon, pointLat} {
		also := fields[i].Also
		first := slices.IndexFunc(also, func(name string) bool { return name == "x" || name == "y" })
		fields[i].Also = append(slices.Clone(also[first:]), also[:first]...)
	}
	return fields
}

// fieldsFor returns the fields of points in the given reference system.
func fieldsFor(definition string) []column.Field {
	if c, err := earth.ParseCRS(definition); err == nil && !c.IsGeographic() {
		return projectedFields()
	}
	return pointFields
}
