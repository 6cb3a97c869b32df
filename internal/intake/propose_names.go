package intake

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

// recognisedStreams are names of columns in hydrography of national and state
// agencies [C].
var recognisedStreams = []recognised{
	{"stream_id", different, []string{"comid", "nhdplusid", "permanentidentifier", "reachcode", "id", "objectid", "segmentid", "linkno", "hyrivid", "fid", "permanentid", "permid", "nhdid", "lineid", "segid", "arcid", "reachid"}},
	{"waterBody", anything, []string{"gnisname", "name", "rivername", "streamname", "river", "stream", "gnis", "creek", "creekname", "watercourse"}},
	{"from_node", different, []string{"fromnode", "fnode", "nodefrom", "startnode", "fromnodeid"}},
	{"to_node", anything, []string{"tonode", "tnode", "nodeto", "endnode", "tonodeid"}},
	{"hydroseq", different, []string{"hydrologicsequence"}},
	{"divergence", numbers, []string{"diverg"}},
	{"stream_order", numbers, []string{"streamorde", "streamorder", "strahler", "order", "ordstra", "strmorder", "strorder", "strord", "strorde", "strahlerorder", "strahlero", "streamord", "ord"}},
	{"bankfull_width_m", numbers, []string{"bankfullwidth", "bfwidth", "width", "riverwidth", "bfw", "bankfull", "bkfwidth", "bkfw", "wbkf", "bankfullw", "channelwidth", "chwidth", "streamwidth", "activewidth"}},
	{"drainage_km2", numbers, []string{"totdasqkm", "drainagearea", "uplandskm", "upareakm2", "dasqkm", "drainarea", "da", "drnarea", "upstreamarea", "uparea", "contribarea"}},
	{"catchment_km2", numbers, []string{"areasqkm", "catchmentarea"}},
	{"length_km", numbers, []string{"lengthkm", "length", "len", "lenkm", "reachlength", "seglength"}},
	{"slope", numbers, []string{"gradient"}},
	{"feature_type", fewWords, []string{"ftype", "featuretype"}},
	{"flow_permanence", fewWords, []string{"permanence", "flowregime", "hydrologicclass", "persistence"}},
	{"barrier", fewWords, []string{"structure", "dam", "obstacle"}},
}

// knownWords are words of survey sheets for ours, as plain keeps them [C].
var knownWords = map[string]map[string][]string{
	"management_status": {
		"untreated":     {"live", "alive", "active", "new", "none", "notreatment", "growing", "green", "livecanes", "nottreated"},
		"treated":       {"sprayed", "cut", "treatment", "treatedonce", "complete", "completed", "done", "herbicide", "cutstump", "treatedthisyear", "intreatment"},
		"resprout":      {"resprouts", "resprouting", "regrowth", "regrowing", "retreat", "retreatment"},
		"standing_dead": {"dead", "deadstanding", "standingdead", "deadcanes", "drydead"},
	},
	"occurrenceStatus": {
		"detected":    {"yes", "y", "true", "t", "1", "found", "presence", "seen", "positive", "pos", "+", "ja", "si", "sí", "oui", "x", "✓"},
		"notDetected": {"no", "n", "false", "f", "0", "notfound", "notpresent", "notseen", "none", "absence", "negative", "neg", "gone", "nein", "non", "eradicated"},
	},
	"barrier": {
		"dam": {"damweir", "embankment"}, "weir": {"sill", "lowheaddam", "dropstructure", "gradecontrol"},
		"culvert": {"pipe", "crossing"}, "reservoir": {"lake", "impoundment", "pond"},
	},
	"flow_permanence": {
		"perennial": {"permanent"}, "intermittent": {"seasonal", "temporary"}, "ephemeral": {"dry", "episodic"},
	},
	"kind": { // of works, and of barriers
		"mowing": {"mow", "grasscutting", "brushing", "brushcutting"}, "earthwork": {"earthworks", "grading", "digging", "excavation", "earthmoving"},
		"channel work": {"channelmaintenance", "dredging", "bankwork", "bankrepair", "desilting", "channelclearing"},
		"dam":          {"damweir", "embankment"}, "weir": {"sill", "lowheaddam", "dropstructure", "gradecontrol"},
		"culvert": {"pipe", "crossing", "pipeculvert", "boxculvert"}, "reservoir": {"lake", "impoundment", "pond"},
	},
	"method": {
		"foliar spray": {"spray", "sprayed", "foliar", "foliarapplication"}, "cut stump": {"stump", "cutandpaint", "cutpaint", "cutstumptreatment"},
		"injection": {"inject", "steminjection"}, "hand pull": {"pulled", "pulling", "handpulling", "handremoval"},
		"digging": {"dug", "excavated"}, "covering": {"tarp", "tarping", "tarped"},
	},
	"formulation_class": {
		"aquatic-labelled": {"aquatic", "aquaticlabel", "aquaticlabeled", "aquaticapproved"}, "general": {"terrestrial", "upland", "standard"},
		"none": {"no", "nil", "noherbicide", "mechanical"},
	},
}
