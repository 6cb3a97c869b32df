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
		return nonzeroText(l.Length.Kilometers())
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
	r.options, r.Lines, r.recognised = o, true, recognisedStreams
	r.binding = newBinding(streamFields, o.Mapping)
	r.id = streamID
	r.barriers, r.divergences = o.Mapping.words("barrier"), o.Mapping.words("divergence")
	r.kinds, r.permanences = o.Mapping.words("feature_type"), o.Mapping.words("flow_permanence")
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
var streamFields = []fieldName{
	streamID:            {name: "stream_id"},
	streamName:          {name: "waterBody", also: []string{"dwc:waterBody", "water_body", "gpx:name"}},
	streamFrom:          {name: "from_node"},
	streamTo:            {name: "to_node"},
	streamSequence:      {name: "hydroseq"},
	streamDivergence:    {name: "divergence", words: theirs{}},
	streamShare:         {name: "flow_share", in: cell.Share},
	streamOrder:         {name: "stream_order"},
	streamWidth:         {name: "bankfull_width_m", in: cell.Metre},
	streamVelocity:      {name: "mean_velocity_mps", in: cell.MetrePerSecond},
	streamDrainage:      {name: "drainage_km2", in: cell.SquareKilometre},
	streamDischarge:     {name: "discharge_m3s", in: cell.CubicMetrePerSecond},
	streamMeanDischarge: {name: "mean_discharge_m3s", in: cell.CubicMetrePerSecond},
	streamSlope:         {name: "slope", in: cell.Share},
	streamBarrier: {name: "barrier", words: theirs{
		"dam": {"damweir", "embankment"}, "weir": {"sill", "lowheaddam", "dropstructure", "gradecontrol"},
		"culvert": {"pipe", "crossing"}, "reservoir": {"lake", "impoundment", "pond"},
	}},
	streamPass:      {name: "barrier_pass", in: cell.Share},
	streamLength:    {name: "length_km", in: cell.Kilometre},
	streamCatchment: {name: "catchment_km2", in: cell.SquareKilometre},
	streamFeature:   {name: "feature_type", words: theirs{}},
	streamPermanence: {name: "flow_permanence", words: theirs{
		"perennial": {"permanent"}, "intermittent": {"seasonal", "temporary"}, "ephemeral": {"dry", "episodic"},
	}},
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
		Name:          r.store.keep(r.binding.cell(f, streamName)),
		File:          r.Name,
		Row:           f.Row,
		FromNode:      node(r.binding.cell(f, streamFrom)),
		ToNode:        node(r.binding.cell(f, streamTo)),
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
	if text := r.binding.cell(f, streamFeature); len(text) > 0 {
		l.FeatureType = translate(r.kinds, r.store.keep(wholeText(text)))
	}
	if !l.IsCoast() { // sources fill a coast's with all sorts of numbers
		l.Divergence = stream.Divergence(r.divergence(f))
	}
	if text := r.binding.cell(f, streamBarrier); len(text) > 0 {
		word := translate(r.barriers, r.store.keep(text))
		known, ok := stream.ParseBarrier(word)
		if l.Barrier = stream.Barrier(word); !ok {
			known = ""
		}
		r.tally(streamBarrier, text, string(known))
	}
	if text := r.binding.cell(f, streamPermanence); len(text) > 0 {
		word := translate(r.permanences, r.store.keep(text))
		known, ok := stream.ParsePermanence(word)
		if l.Permanence = stream.Permanence(word); !ok {
			known = ""
		}
		r.tally(streamPermanence, text, string(known))
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
	text := r.binding.cell(f, streamDivergence)
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
		name := r.binding.fields[field].name
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
