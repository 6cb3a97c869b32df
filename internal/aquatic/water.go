package aquatic

import (
	"sync"

	"driftreach/geo"
	"driftreach/geo/linear"
	"driftreach/internal/stream"
)

// Water is the stream network prepared for queries about banks. It is read-only after NewWater and
// safe for concurrent use, but for DropIndex.
type Water struct {
	net      *stream.Network
	index    func() *linear.Index // of the edges, built on first use: the zone is drawn without it
	half     []geo.Meters         // by edge: half the bankfull width
	assumed  []bool               // by edge: the width is the setting by stream order
	surfaces surfaces
	setback  geo.Meters
	chord    geo.Meters
	margin   geo.Meters
	farthest geo.Meters // largest half width: no bank is farther from its centerline
}

// NewWater gives each of the network's edges its bankfull width. It takes the recorded
// width, or the setting by stream order where none is recorded or the recorded one is impossible.
// Edges on a surface drawn as an area get no width. Cost is linear in vertices.
func NewWater(net *stream.Network, s Settings) *Water {
	w := &Water{
		net: net, setback: s.Setback, chord: s.Chord, margin: s.Margin,
		half:    make([]geo.Meters, net.Paths.Len()),
		assumed: make([]bool, net.Paths.Len()),
	}
	w.DropIndex()
	w.surfaces = w.newSurfaces()
	for e := range net.Paths.Len() {
		if net.On[e] >= 0 {
			continue // its bank is the edge of the surface
		}
		width := net.Line(net.Net.Edges[e].Line).BankfullWidth
		if !(width > 0 && width <= stream.MostWidth) { // stream.Check lets no other width through
			width, w.assumed[e] = s.width(net.Order[e]), true
		}
		w.half[e] = width / 2
		w.farthest = max(w.farthest, width/2)
	}
	return w
}

// DropIndex drops the index of the edges, which takes most of the memory. It is built again when next
// used. Nothing else may use the water meanwhile.
func (w *Water) DropIndex() {
	w.index = sync.OnceValue(func() *linear.Index { return linear.NewIndexOf(w.net.Paths) })
}

// HalfWidths returns half the bankfull width of each edge.
func (w *Water) HalfWidths() []geo.Meters { return w.half }

// reach is the distance from the centerline to the outer edge of the zone.
func (w *Water) reach(edge int32) geo.Meters { return w.half[edge] + w.setback }
