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

// RoleStreams is the name of the input of stream centerlines.
const RoleStreams = "streams"

func streamsRole() Role {
	return Role{
		Name: RoleStreams, Is: "stream centerlines", Needed: true, System: "the streams",
		Help:  "`FILE` of stream centerlines: GeoPackage, Shapefile, GeoJSON or another format that is read",
		Rules: stream.Rules, Digest: digestOf(stream.Digest), fields: streamFields, shapes: lines,
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

// streamValue returns the value of a centerline's field, as it was understood.
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
		"hydroseq": l.Sequence, "flow_share": float64(l.FlowShare), "mean_velocity_mps": float64(l.MeanVelocity), "drainage_km2": float64(l.Drainage),
		"discharge_m3s": float64(l.Discharge), "mean_discharge_m3s": float64(l.MeanDischarge), "slope": l.Slope,
		"barrier_pass": float64(l.BarrierPass), "catchment_km2": float64(l.LocalArea),
	}[field]
	if !ok {
		return ""
	}
	return numberText(v)
}

// ReadStreams returns the centerlines of a file of any format, in WGS 84 degrees and in the
// order of the file, and the findings. A LineString is one centerline and so is each part of a
// MultiLineString. The error is an *UnusableError when the file cannot be used. The text is
// never held in memory as a whole; cost is linear.
func ReadStreams(s format.Source, o Options) (Streams, []check.Finding, error) {
	r := &streamReader{featureReader: newReader(streamFields, streamID, recognisedStreams, o)}
	r.Lines = true
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

// streamReader turns features into centerlines.
type streamReader struct {
	featureReader
	found       []stream.Centerline
	barriers    map[string]string
	divergences map[string]string
	kinds       map[string]string // words of feature_type, from the settings
	permanences map[string]string
	slab        slab
}

// take turns one feature into its centerlines.
func (r *streamReader) take(f *format.Feature) error {
	if r.Tabular() && r.GeometryColumn < 0 {
		return r.Unusable("", "the file is a table without a column of lines", "give the lines as well-known text in a column called WKT, or as another format")
	}
	switch {
	case r.rejectFeature(f, lines):
	case f.Shape.Kind == format.NoShape:
		r.reject(f, ruleEmpty, "geometry", "", "the feature has no geometry")
	default:
		r.place(f, r.attributes(f))
	}
	return nil
}

// place adds a line for each part of the feature.
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
		FlowShare:     geo.Share(r.number(f, streamShare)),
		BankfullWidth: geo.Meters(orZero(r.number(f, streamWidth))),
		MeanVelocity:  geo.MetersPerSecond(r.number(f, streamVelocity)),
		Drainage:      geo.SquareKilometers(r.number(f, streamDrainage)),
		Discharge:     geo.CubicMetersPerSecond(r.number(f, streamDischarge)),
		MeanDischarge: geo.CubicMetersPerSecond(r.number(f, streamMeanDischarge)),
		Slope:         r.number(f, streamSlope),
		BarrierPass:   geo.Share(r.number(f, streamPass)),
		Length:        geo.Meters(1000 * orZero(r.number(f, streamLength))),
		LocalArea:     geo.SquareKilometers(r.number(f, streamCatchment)),
	}
	l.Order = r.whole(f, streamOrder, math.MaxInt32)
	if text := r.columns.Cell(f, streamFeature); len(text) > 0 {
		l.FeatureType = translate(r.kinds, r.store.keep(wholeText(text)))
	}
	if !l.IsCoast() { // sources put all kinds of numbers there for a coast
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

// node reads the name of a node. Sources write 0 for none; it is read as blank, because otherwise all
// outlets would be the same place. Tables of floats write whole numbers as 17.0 or 1.7e+001.
func node(text []byte) string {
	name := string(wholeText(text))
	if strings.ContainsRune(name, '.') && strings.Contains(strings.ToLower(name), "e+") {
		// beyond 1e15 a float64 may not represent every whole number
		if v, err := strconv.ParseFloat(name, 64); err == nil && v == math.Trunc(v) && math.Abs(v) < 1e15 {
			name = strconv.FormatFloat(v, 'f', 0, 64)
		}
	}
	if name == "0" {
		return ""
	}
	return name
}

// divergence reads 0, 1 or 2, or a word mapped to one of them.
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

// whole reads a whole number; 0 if there is none.
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
