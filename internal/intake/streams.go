package intake

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/stream"
)

// Streams is a file of stream centerlines, read but not yet checked as a batch.
type Streams struct {
	File
	Centerlines []stream.Centerline
}

// RoleStreams is the name of stream centerlines among the inputs.
const RoleStreams = "streams"

func streamsRole() Role {
	return Role{
		Name: RoleStreams, Is: "stream centerlines", Needed: true, System: "the streams",
		Help:  "stream centerlines `FILE` of the same formats",
		Rules: stream.Rules, Digest: digestOf(stream.Digest), fields: streamFields,
		records: kind[Streams, stream.Centerline]{
			open: ReadStreams,
			of:   func(f *Streams) (File, []stream.Centerline) { return f.File, f.Centerlines },
			check: func(all []stream.Centerline, _ Against) ([]stream.Centerline, []check.Finding) {
				return stream.Check(all, stream.Options{})
			},
			file:  func(l *stream.Centerline) string { return l.File },
			value: streamValue,
		},
	}
}

// streamValue is one centerline's value of a field, as understood.
func streamValue(l *stream.Centerline, field string) string {
	switch field {
	case "stream_id":
		return l.ID
	case "waterBody":
		return l.Name
	case "from_node":
		return l.FromNode
	case "to_node":
		return l.ToNode
	case "feature_type":
		return l.FeatureType
	case "flow_permanence":
		return string(l.Permanence)
	case "barrier":
		return string(l.Barrier)
	case "stream_order":
		return nonzeroText(float64(l.Order))
	case "divergence":
		return nonzeroText(float64(l.Divergence))
	case "bankfull_width_m":
		return nonzeroText(float64(l.BankfullWidth))
	case "length_km":
		return nonzeroText(float64(l.Length.Kilometers()))
	}
	v, ok := map[string]float64{
		"hydroseq": l.Sequence, "flow_share": l.FlowShare, "mean_velocity_mps": l.MeanVelocity, "drainage_km2": l.Drainage,
		"discharge_m3s": l.Discharge, "mean_discharge_m3s": l.MeanDischarge, "slope": l.Slope,
		"barrier_pass": l.BarrierPass, "catchment_km2": l.LocalArea,
	}[field]
	if !ok {
		return ""
	}
	return numberText(v)
}

// ReadStreams returns the centerlines of a file of any format, in WGS 84 degrees and
// in the order of the file, and what it found. A LineString is one centerline
// and so is each part of a MultiLineString. The error is an *UnusableError when nothing
// can be made of the file. The text is never held as a whole; cost is linear.
func ReadStreams(s format.Source, o Options) (Streams, []check.Finding, error) {
	r := &streamReader{}
	r.options, r.Lines = o, true
	r.columns = column.New(streamFields, recognisedStreams, o.Mapping)
	r.id = streamID
	r.barriers, r.divergences = o.Mapping.Words("barrier"), o.Mapping.Words("divergence")
	r.kinds, r.permanences = o.Mapping.Words("feature_type"), o.Mapping.Words("flow_permanence")
	if err := r.readFile(s, r.take); err != nil {
		return Streams{}, nil, err
	}
	if r.features > 0 && r.wrongKind == r.features {
		return Streams{}, nil, r.Unusable("", "no feature is a line", "name a file of stream centerlines; survey points go with --points")
	}
	return Streams{File: r.file, Centerlines: r.found}, r.Log.Findings(), nil
}

// The fields of a stream line, by their place in streamFields.
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

// streamFields are the columns of stream lines; an agency's own names come in
// through the mapping. Case does not matter.
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
	column.Elsewhere("stream_id", column.Different, "comid", "nhdplusid", "permanentidentifier", "reachcode", "id", "objectid", "segmentid", "linkno", "hyrivid", "fid", "permanentid", "permid", "nhdid", "lineid", "segid", "arcid", "reachid"),
	column.Elsewhere("waterBody", column.Anything, "gnisname", "name", "rivername", "streamname", "river", "stream", "gnis", "creek", "creekname", "watercourse"),
	column.Elsewhere("from_node", column.Different, "fromnode", "fnode", "nodefrom", "startnode", "fromnodeid"),
	column.Elsewhere("to_node", column.Anything, "tonode", "tnode", "nodeto", "endnode", "tonodeid"),
	column.Elsewhere("hydroseq", column.Different, "hydrologicsequence"),
	column.Elsewhere("divergence", column.Numbers, "diverg"),
	column.Elsewhere("stream_order", column.Numbers, "streamorde", "streamorder", "strahler", "order", "ordstra", "strmorder", "strorder", "strord", "strorde", "strahlerorder", "strahlero", "streamord", "ord"),
	column.Elsewhere("bankfull_width_m", column.Numbers, "bankfullwidth", "bfwidth", "width", "riverwidth", "bfw", "bankfull", "bkfwidth", "bkfw", "wbkf", "bankfullw", "channelwidth", "chwidth", "streamwidth", "activewidth"),
	column.Elsewhere("drainage_km2", column.Numbers, "totdasqkm", "drainagearea", "uplandskm", "upareakm2", "dasqkm", "drainarea", "da", "drnarea", "upstreamarea", "uparea", "contribarea"),
	column.Elsewhere("catchment_km2", column.Numbers, "areasqkm", "catchmentarea"),
	column.Elsewhere("length_km", column.Numbers, "lengthkm", "length", "len", "lenkm", "reachlength", "seglength"),
	column.Elsewhere("slope", column.Numbers, "gradient"),
	column.Elsewhere("feature_type", column.FewWords, "ftype", "featuretype"),
	column.Elsewhere("flow_permanence", column.FewWords, "permanence", "flowregime", "hydrologicclass", "persistence"),
	column.Elsewhere("barrier", column.FewWords, "structure", "dam", "obstacle"),
}

// streamReader makes features into centerlines.
type streamReader struct {
	featureReader
	found       []stream.Centerline
	barriers    map[string]string
	divergences map[string]string
	kinds       map[string]string // words of feature_type
	permanences map[string]string
	slab        slab
}

// take makes one feature into its centerlines.
func (r *streamReader) take(f *format.Feature) error {
	if r.Tabular() && r.GeometryColumn < 0 {
		return r.Unusable("", "the file is a table without a column of lines", "give the lines as well-known text in a column called WKT, or as another format")
	}
	switch {
	case f.Wrong != "":
		r.reject(f, ruleUnreadable, "", "", f.Wrong)
	case r.rejectShape(f, lineLike):
	case f.Shape.Kind == format.NoShape:
		r.reject(f, ruleEmpty, "geometry", "", "the feature has no geometry")
	default:
		r.place(f, r.attributes(f))
	}
	return nil
}

func lineLike(k format.ShapeKind) bool { return k == format.LineShape || k == format.MultiLineShape }

// place adds the line once for every part of the feature.
func (r *streamReader) place(f *format.Feature, l stream.Centerline) {
	id := l.ID
	for i := range f.Shape.Parts {
		if i > 0 && id != "" {
			l.ID = fmt.Sprintf("%s#%d", id, i+1)
		}
		l.Path = orb.LineString(r.slab.copy(f.Shape.Part(i)))
		r.file.Read++
		r.found = append(grown(&r.featureReader, r.found), l)
	}
}

func (r *streamReader) attributes(f *format.Feature) stream.Centerline {
	l := stream.Centerline{
		ID:            r.identity(f),
		Name:          r.store.keep(r.columns.Cell(f, streamName)),
		File:          r.Name,
		Row:           f.Row,
		FromNode:      node(r.columns.Cell(f, streamFrom)),
		ToNode:        node(r.columns.Cell(f, streamTo)),
		Sequence:      r.number(f, streamSequence),
		FlowShare:     r.number(f, streamShare),
		BankfullWidth: geo.Meters(orZero(r.number(f, streamWidth))),
		MeanVelocity:  r.number(f, streamVelocity),
		Drainage:      r.number(f, streamDrainage),
		Discharge:     r.number(f, streamDischarge),
		MeanDischarge: r.number(f, streamMeanDischarge),
		Slope:         r.number(f, streamSlope),
		BarrierPass:   r.number(f, streamPass),
		Length:        geo.Meters(1000 * orZero(r.number(f, streamLength))),
		LocalArea:     r.number(f, streamCatchment),
	}
	l.Order = r.whole(f, streamOrder, math.MaxInt32)
	if text := r.columns.Cell(f, streamFeature); len(text) > 0 {
		l.FeatureType = translate(r.kinds, r.store.keep(wholeText(text)))
	}
	if !l.IsCoast() { // sources fill a coast's with all sorts of numbers
		l.Divergence = stream.Divergence(r.divergence(f))
	}
	if text := r.columns.Cell(f, streamBarrier); len(text) > 0 {
		word := translate(r.barriers, r.store.keep(text))
		known, ok := stream.ParseBarrier(word)
		if l.Barrier = stream.Barrier(word); !ok {
			known = ""
		}
		r.columns.Count(streamBarrier, text, string(known))
	}
	if text := r.columns.Cell(f, streamPermanence); len(text) > 0 {
		word := translate(r.permanences, r.store.keep(text))
		known, ok := stream.ParsePermanence(word)
		if l.Permanence = stream.Permanence(word); !ok {
			known = ""
		}
		r.columns.Count(streamPermanence, text, string(known))
	}
	return l
}

// node reads the name of a node. Sources write 0 where there is none: it counts
// as blank, or every outlet would be one place. Tables of floats write whole
// numbers as 17.0 or 1.7e+001.
func node(text []byte) string {
	name := string(wholeText(text))
	if strings.ContainsRune(name, '.') && strings.Contains(strings.ToLower(name), "e+") {
		// beyond 1e15 a float no longer tells whole numbers apart for sure
		if v, err := strconv.ParseFloat(name, 64); err == nil && v == math.Trunc(v) && math.Abs(v) < 1e15 {
			name = strconv.FormatFloat(v, 'f', 0, 64)
		}
	}
	if name == "0" {
		return ""
	}
	return name
}

// divergence reads 0, 1 or 2 or a mapped word for them.
func (r *streamReader) divergence(f *format.Feature) int {
	text := r.columns.Cell(f, streamDivergence)
	if len(text) == 0 {
		return 0
	}
	if word, mapped := r.divergences[string(lower(text))]; mapped {
		if v, kind := cell.ParseNumber([]byte(word), false); kind == cell.GoodNumber && v >= 0 && v <= 2 {
			return int(v)
		}
	}
	v, kind := cell.ParseNumber(text, r.Comma)
	if kind == cell.GoodNumber && v >= 0 && v <= 2 && v == math.Trunc(v) {
		return int(v)
	}
	if kind != cell.BlankNumber {
		r.report(f, stream.RuleDivergence(), "divergence", string(text), "divergence is not 0, 1 or 2; the value was left out")
	}
	return 0
}

// whole reads a whole number; 0 when there is none.
func (r *streamReader) whole(f *format.Feature, field int, most float64) int {
	v := r.number(f, field)
	if math.IsNaN(v) {
		return 0
	}
	if v != math.Trunc(v) || math.Abs(v) > most {
		name := r.columns.FieldName(field)
		r.report(f, ruleWrongInteger, name, fmt.Sprint(v), name+" is no whole number; the value was left out")
		return 0
	}
	return int(v)
}

func orZero(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return v
}
