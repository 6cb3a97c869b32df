package aquatic

import (
	"slices"
	"strings"
)

// body is one water body: the edges and surfaces with one name.
type body struct {
	name     string
	dry      []int32 // edges with their own banks, ascending
	wet      []int32 // edges on its surfaces
	surfaces []int32
	middle   float64 // a longitude within it
}

// bodies groups edges and surfaces by the name of their water body, sorted by name. An edge on a
// surface belongs to the body of that surface; a surface without a name to the body of the first
// stream on it.
func (w *Water) bodies() []body {
	at := make(map[string]int)
	var out []body
	named := func(name string, middle func() float64) *body {
		i, met := at[name]
		if !met {
			i = len(out)
			at[name] = i
			out = append(out, body{name: name, middle: middle()})
		}
		return &out[i]
	}
	for e := range w.net.Paths.Len() {
		if !w.onSurface(int32(e)) {
			b := named(w.name(int32(e)), func() float64 { return w.net.Paths.At(e)[0][0] })
			b.dry = append(b.dry, int32(e))
		}
	}
	for s, edges := range w.surfaces.edges {
		surface := &w.net.Surfaces[s]
		name := surface.Name
		if name == "" && len(edges) > 0 {
			name = w.name(edges[0])
		}
		b := named(name, func() float64 { return surface.Areas[0][0][0][0] })
		b.surfaces, b.wet = append(b.surfaces, int32(s)), append(b.wet, edges...)
	}
	slices.SortFunc(out, func(a, b body) int { return strings.Compare(a.name, b.name) })
	return out
}

func (w *Water) name(edge int32) string { return w.net.LineName(w.net.Net.Edges[edge].Line) }
