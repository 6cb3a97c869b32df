package intake

import (
	"driftreach/internal/cell"
	"driftreach/internal/column"
)

// The fields of a stream line, by their index in streamFields.
const (
	streamID = iota
	streamName
	streamFrom
	streamTo
	streamSequence
	streamDivergence
	streamShare
	streamOrder
	streamWidth
	streamVelocity
	streamDrainage
	streamDischarge
	streamMeanDischarge
	streamSlope
	streamBarrier
	streamPass
	streamLength
	streamCatchment
	streamFeature
	streamPermanence
)

// streamFields are the columns of stream lines. The settings map an agency's own names. Case does not
// matter.
var streamFields = []column.Field{
	streamID:            {Name: "stream_id"},
	streamName:          {Name: "waterBody", Also: []string{"dwc:waterBody", "water_body", "gpx:name"}},
	streamFrom:          {Name: "from_node"},
	streamTo:            {Name: "to_node"},
	streamSequence:      {Name: "hydroseq"},
	streamDivergence:    {Name: "divergence", Words: column.Theirs{}},
	streamShare:         {Name: "flow_share", In: cell.Share},
	streamOrder:         {Name: "stream_order"},
	streamWidth:         {Name: "bankfull_width_m", In: cell.Metre},
	streamVelocity:      {Name: "mean_velocity_mps", In: cell.MetrePerSecond},
	streamDrainage:      {Name: "drainage_km2", In: cell.SquareKilometre},
	streamDischarge:     {Name: "discharge_m3s", In: cell.CubicMetrePerSecond},
	streamMeanDischarge: {Name: "mean_discharge_m3s", In: cell.CubicMetrePerSecond},
	streamSlope:         {Name: "slope", In: cell.Share},
	streamBarrier: {Name: "barrier", Words: column.Theirs{
		"dam": {"damweir", "embankment"}, "weir": {"sill", "lowheaddam", "dropstructure", "gradecontrol"},
		"culvert": {"pipe", "crossing"}, "reservoir": {"lake", "impoundment", "pond"},
	}},
	streamPass:      {Name: "barrier_pass", In: cell.Share},
	streamLength:    {Name: "length_km", In: cell.Kilometre},
	streamCatchment: {Name: "catchment_km2", In: cell.SquareKilometre},
	streamFeature:   {Name: "feature_type", Words: column.Theirs{}},
	streamPermanence: {Name: "flow_permanence", Words: column.Theirs{
		"perennial": {"permanent"}, "intermittent": {"seasonal", "temporary"}, "ephemeral": {"dry", "episodic"},
	}},
}

// recognisedStreams are names of columns in hydrography of national and state
// agencies [C].
var recognisedStreams = []column.Recognised{
	column.Elsewhere("stream_id", column.Different, "comid", "nhdplusid", "permanentidentifier", "reachcode", "id", "objectid", "segmentid", "linkno", "hyrivid", "fid", "permanentid", "permid", "nhdid", "lineid", "segid", "arcid", "reachid", "codigo", "identifiant", "identificador"),
	column.Elsewhere("waterBody", column.Anything, "gnisname", "name", "rivername", "streamname", "river", "stream", "gnis", "creek", "creekname", "watercourse", "nombre", "nome", "nom", "rio", "riviere", "coursdeau", "toponimo", "gewasser", "gewaesser", "gewassername", "gewaessername", "fluss"),
	column.Elsewhere("from_node", column.Different, "fromnode", "fnode", "nodefrom", "startnode", "fromnodeid"),
	column.Elsewhere("to_node", column.Anything, "tonode", "tnode", "nodeto", "endnode", "tonodeid"),
	column.Elsewhere("hydroseq", column.Different, "hydrologicsequence"),
	column.Elsewhere("divergence", column.Numbers, "diverg"),
	column.Elsewhere("stream_order", column.Numbers, "streamorde", "streamorder", "strahler", "order", "ordstra", "strmorder", "strorder", "strord", "strorde", "strahlerorder", "strahlero", "streamord", "ord", "orden", "ordem", "ordre", "ordine", "ordnung", "ordnungszahl"),
	column.Elsewhere("bankfull_width_m", column.Numbers, "bankfullwidth", "bfwidth", "width", "riverwidth", "bfw", "bankfull", "bkfwidth", "bkfw", "wbkf", "bankfullw", "channelwidth", "chwidth", "streamwidth", "activewidth", "ancho", "anchura", "largura", "largeur", "larghezza", "breite"),
	column.Elsewhere("drainage_km2", column.Numbers, "totdasqkm", "drainagearea", "uplandskm", "upareakm2", "dasqkm", "drainarea", "da", "drnarea", "upstreamarea", "uparea", "contribarea"),
	column.Elsewhere("catchment_km2", column.Numbers, "areasqkm", "catchmentarea"),
	column.Elsewhere("length_km", column.Numbers, "lengthkm", "length", "len", "lenkm", "reachlength", "seglength"),
	column.Elsewhere("slope", column.Numbers, "gradient"),
	column.Elsewhere("feature_type", column.FewWords, "ftype", "featuretype"),
	column.Elsewhere("flow_permanence", column.FewWords, "permanence", "flowregime", "hydrologicclass", "persistence"),
	column.Elsewhere("barrier", column.FewWords, "structure", "dam", "obstacle"),
}
