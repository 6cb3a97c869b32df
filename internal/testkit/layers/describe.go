package layers

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"driftreach/internal/format"
)

// Describe returns a line for each feature: its kind, its positions with a pair of brackets around each
// part and each polygon, its own id after a #, the cells that are not blank as column=text, and what is
// wrong with it after an exclamation mark.
func (l Layer) Describe() []string {
	var lines []string
	for _, row := range l.Rows {
		lines = append(lines, row.describe(l.Names))
	}
	return lines
}

func (r Row) describe(names []string) string {
	var words []string
	if r.Kind != format.NoShape {
		words = append(words, r.Name)
	}
	if shape := r.shape(); shape != "" {
		words = append(words, shape)
	}
	if r.ID != "" {
		words = append(words, "#"+r.ID)
	}
	for i, cell := range r.Cells {
		if cell != "" {
			words = append(words, fmt.Sprintf("%s=%s", names[i], cell))
		}
	}
	if r.Wrong != "" {
		words = append(words, "!"+r.Wrong)
	}
	return strings.Join(words, " ")
}

func (r Row) shape() string {
	if len(r.Parts) == 0 {
		return positions(r.Points)
	}
	var out strings.Builder
	begin, open := 0, r.Kind == format.PolygonShape || r.Kind == format.MultiPolygonShape
	if open {
		out.WriteByte('(')
	}
	for i, end := range r.Parts {
		fmt.Fprintf(&out, "(%s)", positions(r.Points[begin:end]))
		begin = end
		if open && slices.Contains(r.Polygons, i+1) {
			out.WriteByte(')')
			if i+1 < len(r.Parts) {
				out.WriteByte('(')
			}
		}
	}
	out.WriteString(positions(r.Points[begin:]))
	return out.String()
}

func positions(points [][2]float64) string {
	var words []string
	for _, p := range points {
		words = append(words, strconv.FormatFloat(p[0], 'f', -1, 64)+" "+strconv.FormatFloat(p[1], 'f', -1, 64))
	}
	return strings.Join(words, ",")
}

// Tell returns a line for each finding: its code, its place and its message.
func (l Layer) Tell() []string {
	var lines []string
	for _, f := range l.Told {
		lines = append(lines, fmt.Sprintf("%s %s %q %q: %s", f.Rule.Code, f.Record, f.Field, f.Value, f.Message))
	}
	return lines
}
