package intake

// recognisedPoints are names of columns in survey sheets, field apps and
// databases [C]. They are proposed, never taken without being asked.
var recognisedPoints = []recognised{
	{"occurrenceID", different, []string{"id", "recordid", "objectid", "globalid", "uuid", "guid", "siteid", "pointid", "findno", "findid", "no", "number", "fid", "sitename", "point", "waypoint", "occurrence", "name"}},
	{"eventDate", dates, []string{"date", "surveydate", "visitdate", "observationdate", "obsdate", "datetime", "timestamp", "created", "creationdate", "seen", "dateobserved", "datum", "fecha"}},
	{"decimalLongitude", anything, []string{"longitud", "longdd", "londd", "xlong", "gpslongitude", "gpslon", "pointlon", "xlon", "ost", "wgs84lon", "lonwgs84", "longwgs84"}},
	{"decimalLatitude", anything, []string{"latitud", "latdd", "ylat", "gpslatitude", "gpslat", "pointlat", "nord", "wgs84lat", "latwgs84"}},
	{"coordinateUncertaintyInMeters", numbers, []string{"accuracy", "gpsaccuracy", "horizontalaccuracy", "haccuracy", "hacc", "uncertainty", "precision", "esriignssh", "esrignsshrms"}},
	{"occurrenceStatus", fewWords, nil}, // proposed by presence
	{"management_status", fewWords, []string{"status", "condition", "treatment", "treatmentstatus", "state", "zustand", "management"}},
	{"patch_area_m2", numbers, []string{"area", "patcharea", "patchsize", "size", "infestedarea", "infestationarea", "grossarea", "acres", "hectares", "sqft", "ft2", "m2", "sqm", "shapearea"}},
	{"patch_length_m", numbers, []string{"length", "patchlength"}},
	{"patch_width_m", numbers, []string{"width", "patchwidth"}},
	{"patch_diameter_m", numbers, []string{"diameter", "patchdiameter", "diam"}},
	{"canopy_cover_percent", numbers, []string{"cover", "canopycover", "percentcover", "pctcover", "coverpct", "coverpercent", "canopy", "%cover", "cover%"}},
	{"canopy_cover_class", anything, []string{"coverclass", "canopyclass", "densityclass", "canopycoverclass"}},
	{"stem_height_m", numbers, []string{"height", "stemheight", "canopyheight", "plantheight", "maxheight", "ht"}},
	{"recordedBy", anything, []string{"observer", "surveyor", "crew", "collector", "recorder", "creator", "staff", "surveyedby", "observedby", "by", "initials"}},
	{"parcel", anything, []string{"apn", "parcelid", "parcelno", "lot", "lotno", "property", "landowner"}},
	{"occurrenceRemarks", anything, []string{"notes", "note", "comments", "comment", "remarks", "remark", "description", "desc"}},
}

// recognisedStreams are names of columns in hydrography of national and state
// agencies [C].
var recognisedStreams = []recognised{
	{"stream_id", different, []string{"comid", "nhdplusid", "permanentidentifier", "reachcode", "id", "objectid", "segmentid", "linkno", "hyrivid", "fid"}},
	{"waterBody", anything, []string{"gnisname", "name", "rivername", "streamname", "river", "stream"}},
	{"from_node", different, []string{"fromnode", "fnode", "nodefrom", "startnode", "fromnodeid"}},
	{"to_node", anything, []string{"tonode", "tnode", "nodeto", "endnode", "tonodeid"}},
	{"hydroseq", different, []string{"hydrologicsequence"}},
	{"divergence", numbers, []string{"diverg"}},
	{"stream_order", numbers, []string{"streamorde", "streamorder", "strahler", "order", "ordstra", "strmorder"}},
	{"bankfull_width_m", numbers, []string{"bankfullwidth", "bfwidth", "width", "riverwidth"}},
	{"drainage_km2", numbers, []string{"totdasqkm", "drainagearea", "uplandskm", "upareakm2", "dasqkm"}},
	{"catchment_km2", numbers, []string{"areasqkm", "catchmentarea"}},
	{"length_km", numbers, []string{"lengthkm", "length"}},
	{"slope", numbers, []string{"gradient"}},
	{"feature_type", fewWords, []string{"ftype", "featuretype"}},
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
