package mapfile

import (
	"bytes"
	"cmp"
	"encoding/xml"
	"fmt"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// A large map in a KMZ comes in parts: files inside the archive, each with features that are near one
// another. The map links to each part with the region around its features (OGC 07-147r2, sections 9.13
// and 13.1), so that a globe reads only what is near. A globe that ignores regions reads all parts one
// after the other, even if a single document would be too large for it. Programs that read the data see
// each part as a layer.
const (
	// partBytes is about the most text in a part. Our choice: a browser cannot hold a text of 512
	// megabytes, and reads one of 8 in less than a second.
	partBytes = 8 << 20
	// A piece of the document is about half a megabyte.
	pieceBytes = partBytes / 16
	// The size of a feature with the given number of vertices: its data, and its coordinates.
	dataBytes, vertexBytes = 4000, 25
	// Our choice: a part is read once it is this many pixels across, a sixteenth of a tablet's screen.
	partPixels = 128
	partFolder = "parts/"
)

// split adds the given rows in parts, n in each piece of the document, as add adds them to a part.
func (d *document) split(rows []int32, n int, where placed, add func(to *document, rows []int32)) {
	bounds, weights := make([]orb.Bound, len(rows)), make([]int, len(rows))
	for k, i := range rows {
		around, vertices := where(int(i))
		bounds[k], weights[k] = around, pieceBytes/n
		if vertices > 0 {
			weights[k] = dataBytes + vertexBytes*vertices
		}
	}
	neighbours := near(bounds, weights, partBytes)
	name := strings.Join(d.inside, ": ")
	for k, members := range neighbours {
		slices.Sort(members)
		p := &mapPart{
			file: fmt.Sprintf("%s%s-%0*d.kml", partFolder, slug(name), len(fmt.Sprint(len(neighbours))), k+1),
			name: name, text: d.text, doc: &document{run: d.run, packed: true},
		}
		if len(neighbours) > 1 {
			p.name = fmt.Sprintf("%s, %d of %d", name, k+1, len(neighbours))
		}
		own := make([]int32, len(members))
		for j, member := range members {
			own[j] = rows[member]
			p.around.addBound(bounds[member])
		}
		p.doc.add(p.head)
		add(p.doc, own)
		p.doc.raw("</Document>\n</kml>\n")
		d.parts = append(d.parts, p)
		d.add(func(_ *mapper, b *bytes.Buffer) error { return marshal(b, p.link()) })
	}
}

// near returns the indices of boxes in groups of neighbours. A group weighs at most most, unless it is
// a single box. Groups are halved by weight again and again, across the longer side of the box around
// their middles. Equal boxes keep their order.
func near(bounds []orb.Bound, weights []int, most int) [][]int {
	all, middles := make([]int, len(bounds)), make(orb.MultiPoint, len(bounds))
	for i := range all {
		all[i], middles[i] = i, bounds[i].Center()
	}
	var out [][]int
	var halve func(group []int)
	halve = func(group []int) {
		sum, around := 0, middles[group[0]].Bound()
		for _, i := range group {
			sum += weights[i]
			around = around.Extend(middles[i])
		}
		if sum <= most || len(group) == 1 {
			out = append(out, group)
			return
		}
		axis := 0
		if around.Max[1]-around.Min[1] > around.Max[0]-around.Min[0] {
			axis = 1
		}
		slices.SortFunc(group, func(i, j int) int {
			return cmp.Or(cmp.Compare(middles[i][axis], middles[j][axis]), cmp.Compare(i, j))
		})
		half, cut := 0, 0
		for cut = 0; cut < len(group)-1 && half < sum/2; cut++ {
			half += weights[group[cut]]
		}
		cut = max(cut, 1)
		halve(group[:cut])
		halve(group[cut:])
	}
	if len(all) > 0 {
		halve(all)
	}
	return out
}

// addBound extends the box by a bound in degrees; an empty bound adds nothing.
func (b *box) addBound(around orb.Bound) {
	if around.IsEmpty() || !finite(around.Min) || !finite(around.Max) {
		return
	}
	low, high := placeOf(around.Min), placeOf(around.Max)
	if low[0] < -halfTurn || high[0] > halfTurn {
		low[0], high[0] = -halfTurn, halfTurn // across the antimeridian, where a region cannot be used
	}
	b.add(low[0], low[1], high[0], high[1])
}

// head opens the document of a part.
func (p *mapPart) head(m *mapper, b *bytes.Buffer) error {
	b.WriteString(xml.Header)
	elements := append([]kml.Element{kml.Name(p.name)}, partStyles(m.run)...)
	return open(b, kml.KML(kml.Document(inLines(elements)...)), "</Document></kml>\n")
}

// link returns the link to a part.
func (p *mapPart) link() kml.Element {
	link := kml.NetworkLink(kml.Name(p.name))
	if p.text != "" {
		link.Append(kml.Description(p.text))
	}
	to := kml.Link(kml.Href(p.file))
	if around := region(p.around, partPixels); around != nil {
		link.Append(around)
		to.Append(kml.ViewRefreshMode(kml.ViewRefreshModeOnRegion))
	}
	return link.Append(to)
}

// slug returns a name as part of a file name: lower case letters and hyphens.
func slug(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r < 'a' || r > 'z' })
	return strings.Join(words, "-")
}

// Bounds of features by kind. Zones and works may be of any size; the features of other kinds are of
// similar size.

func standsLie(run *result.Run) placed {
	return func(i int) (orb.Bound, int) { return run.Stands[i].Footprint.Bound(), 0 }
}

func numbersLie(run *result.Run) placed {
	return func(i int) (orb.Bound, int) { s := &run.Stands[i]; return spot(s.Place()), 0 }
}

func absentLie(run *result.Run) placed {
	return func(i int) (orb.Bound, int) { return run.Absent[i].Footprint.Bound(), 0 }
}

func reachesLie(run *result.Run) placed {
	return func(i int) (orb.Bound, int) { return run.Reaches[i].Path.Bound(), 0 }
}

func stretchesLie(run *result.Run) placed {
	return func(i int) (orb.Bound, int) { return run.Stretches[i].Line().Bound(), 0 }
}

func pointsLie(run *result.Run) placed {
	return func(i int) (orb.Bound, int) { return spot(run.Records.At(i).Position), 0 }
}

func zonesLie(run *result.Run) placed {
	return func(i int) (orb.Bound, int) {
		around, n := orb.MultiPolygon{}.Bound(), 0
		for outer, ring := range run.Zones[i].Geometry.Rings() {
			if outer && n == 0 {
				around = ring.Bound()
			} else if outer {
				around = around.Union(ring.Bound())
			}
			n += len(ring)
		}
		return around, n
	}
}

func count(area orb.MultiPolygon) (n int) {
	for _, p := range area {
		n += vertices(p)
	}
	return n
}

func worksLie(run *result.Run) placed {
	return func(i int) (orb.Bound, int) {
		w := &run.Works[run.Notices[i].Work]
		all := orb.Collection{w.Areas}
		for _, line := range w.Lines {
			all = append(all, line)
		}
		for _, p := range w.Points {
			all = append(all, spot(p).ToPolygon())
		}
		return all.Bound(), count(w.Areas)
	}
}

// spot is the box of a single place, as large as its region.
func spot(p orb.Point) orb.Bound {
	return p.Bound().Pad(spotSteps / 2 / perDegree)
}

// placed returns the bounds of a feature, and its number of vertices if that differs much between
// features of its kind.
type placed func(i int) (around orb.Bound, vertices int)
