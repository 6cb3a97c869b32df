package main

import (
	"fmt"
	"io"
	"math"
	"strconv"

	"github.com/paulmach/orb"
)

// writeStreams writes the centerlines as GeoJSON, one feature a line.
func writeStreams(w io.Writer, g region) error {
	if _, err := io.WriteString(w, "{\"type\":\"FeatureCollection\",\"features\":[\n"); err != nil {
		return err
	}
	var b []byte
	for i, s := range g.streams {
		b = appendStream(b[:0], g, i, s)
		if i < len(g.streams)-1 {
			b = append(b, ',')
		}
		if _, err := w.Write(append(b, '\n')); err != nil {
			return err
		}
	}
	_, err := io.WriteString(w, "]}\n")
	return err
}

func appendStream(b []byte, g region, i int, s stream) []byte {
	b = fmt.Appendf(b, `{"type":"Feature","properties":{"stream_id":"S%07d","waterBody":%q,"divergence":%d`,
		i+1, s.name, s.divergence)
	// One width in five is missing, so the program uses its table.
	if i%5 != 0 {
		b = fmt.Appendf(b, `,"bankfull_width_m":%.1f`, min(90, 2*math.Sqrt(float64(s.lines))))
	}
	if s.divergence > 0 {
		b = fmt.Appendf(b, `,"flow_share":%.1f`, [3]float64{0, 0.8, 0.2}[s.divergence])
	}
	if s.barrier != "" {
		b = fmt.Appendf(b, `,"barrier":%q`, s.barrier)
	}
	b = append(b, `},"geometry":{"type":"LineString","coordinates":[`...)
	for k, p := range s.path {
		if k > 0 {
			b = append(b, ',')
		}
		b = appendPosition(b, g.degrees(s.basin, p))
	}
	return append(b, "]}}"...)
}

// appendPosition appends a place in degrees as GeoJSON, to 1 cm.
func appendPosition(b []byte, at orb.Point) []byte {
	b = strconv.AppendFloat(append(b, '['), at[0], 'f', 7, 64)
	return append(strconv.AppendFloat(append(b, ','), at[1], 'f', 7, 64), ']')
}
