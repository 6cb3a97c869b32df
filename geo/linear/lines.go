package linear

import (
	"encoding/binary"
	"iter"
	"math"
	"slices"
	"sync"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// Lines is many lines, in degrees: as they were given, or packed. Packed lines are to the last bit what
// they were, in some six bytes a vertex for coordinates of seven decimals; long ones stay as they are. It
// is read-only and safe for concurrent use. The zero value has no lines.
type Lines struct {
	plain []orb.LineString // nil if packed
	rows  []packedRows
	row   []int32                  // by line: its row; ^row for a row that is read from its end
	long  map[int32]orb.LineString // by row, or ^row: lines that are not packed

	measured *sync.Map // by line: its measures, if they are many and were asked for
}

// longestPacked is the most vertices of a line that is packed. Our choice: a longer one takes longer to
// unpack than a search for the nearest place on it.
const longestPacked = 100

// LinesOf returns lines as they are, not copied.
func LinesOf(lines []orb.LineString) Lines { return Lines{plain: lines, measured: new(sync.Map)} }

// Len returns the number of lines.
func (l Lines) Len() int { return max(len(l.plain), len(l.row)) }

// At returns a line. It must not be changed.
func (l Lines) At(i int) orb.LineString {
	if l.plain != nil {
		return l.plain[i]
	}
	if line, ok := l.long[l.row[i]]; ok {
		return line
	}
	line := unpackLine(l.text(i))
	if l.row[i] < 0 {
		slices.Reverse(line)
	}
	return line
}

// manyMeasures is the number of vertices from which the measures of a line are kept. Our choice: fewer are
// added up in some ten microseconds.
const manyMeasures = 256

// Measured returns a line and its measures (earth.LengthsAlong), neither of which must be changed. The measures of
// a long line are kept: a river drawn as one line is asked about for each stand on it.
func (l Lines) Measured(i int) (orb.LineString, []geo.Meters) {
	line := l.At(i)
	if l.measured == nil || len(line) < manyMeasures {
		return line, earth.LengthsAlong(line)
	}
	kept, ok := l.measured.Load(i)
	if !ok {
		kept, _ = l.measured.LoadOrStore(i, earth.LengthsAlong(line))
	}
	return line, kept.([]geo.Meters)
}

// MeasureOf returns a line and the measure of one of its vertices.
func (l Lines) MeasureOf(i, vertex int) (orb.LineString, geo.Meters) {
	if l.vertices(i) >= manyMeasures {
		line, measures := l.Measured(i)
		return line, measures[vertex]
	}
	line := l.At(i)
	return line, earth.LineLength(line[:vertex+1])
}

// vertices returns the number of vertices of a line.
func (l Lines) vertices(i int) int {
	if l.plain != nil {
		return len(l.plain[i])
	}
	if line, ok := l.long[l.row[i]]; ok {
		return len(line)
	}
	head, _ := binary.Uvarint(l.text(i))
	return int(head >> ends)
}

// text returns the text of a packed line.
func (l Lines) text(i int) []byte {
	row := l.row[i]
	if row < 0 {
		row = ^row
	}
	return l.rows[row/rowsTogether].text(int(row % rowsTogether))
}

// All goes through the lines.
func (l Lines) All() iter.Seq2[int, orb.LineString] {
	return func(yield func(int, orb.LineString) bool) {
		for i := range l.Len() {
			if !yield(i, l.At(i)) {
				return
			}
		}
	}
}

// Far is a text that is elsewhere than in memory, such as on disk. Part reads n bytes of it, into room if
// they fit. They must not be changed.
type Far interface {
	Part(room []byte, from, n int) []byte
}

// rowsTogether is how many packed lines are in one text. Our choice: what says where a text lies is then
// small beside it, and little of a block in memory is unused.
const rowsTogether = 64

// packedRows is the texts of some lines, one after the other.
type packedRows struct {
	texts []byte
	far   Far      // of the texts, if they are not in memory
	ends  []uint32 // by line: where its text ends
}

// text returns the text of one line.
func (r *packedRows) text(i int) []byte {
	from := uint32(0)
	if i > 0 {
		from = r.ends[i-1]
	}
	if r.far != nil {
		return r.far.Part(nil, int(from), int(r.ends[i]-from))
	}
	return r.texts[from:r.ends[i]]
}

// Packer packs lines. It keeps long ones as they are given. The zero value is ready for use.
type Packer struct {
	Put func(text []byte) (Far, error) // takes the texts and says where they are; nil to keep them in memory

	rows  []packedRows
	long  map[int32]orb.LineString
	texts []byte
	ends  []uint32
	err   error
}

// Add packs a line and returns its row.
func (p *Packer) Add(line orb.LineString) (row int32) {
	row = int32(len(p.rows)*rowsTogether + len(p.ends))
	if len(line) <= longestPacked {
		p.texts = appendLine(p.texts, line)
	} else {
		if p.long == nil {
			p.long = map[int32]orb.LineString{}
		}
		p.long[row] = line
	}
	p.ends = append(p.ends, uint32(len(p.texts)))
	if len(p.ends) == rowsTogether {
		p.finish()
	}
	return row
}

// finish ends a text.
func (p *Packer) finish() {
	done := packedRows{ends: slices.Clone(p.ends)}
	if p.Put == nil {
		done.texts = slices.Clone(p.texts)
	} else if p.err == nil {
		done.far, p.err = p.Put(p.texts)
	}
	p.rows, p.texts, p.ends = append(p.rows, done), p.texts[:0], p.ends[:0]
}

// Lines returns packed lines by their rows: row for the line as it was added, ^row for the same from its
// end. The error is one of Put.
func (p *Packer) Lines(rows []int32) (Lines, error) {
	if len(p.ends) > 0 {
		p.finish()
	}
	for _, row := range rows {
		line, long := p.long[^row]
		if row >= 0 || !long || p.long[row] != nil {
			continue
		}
		turned := slices.Clone(line)
		slices.Reverse(turned)
		p.long[row] = turned
	}
	return Lines{rows: p.rows, row: rows, long: p.long, measured: new(sync.Map)}, p.err
}

// How a line is packed: the number of its vertices, four times, and in the two lowest bits whether the
// first and the last vertex are kept as they are, as those of a line that was cut must. Then, for the
// vertices between, the number of decimals, or exactly; and the vertices.
const (
	firstExact = 1 << iota
	lastExact
	ends = 2 // number of these bits
)

// exactly stands for a number of decimals, where vertices are kept as they are.
const exactly = 255

// decimalsTried are the numbers of decimals that are tried. Our choice: what most files have, and the
// most for which a degree times 180 is still a whole number of steps.
var decimalsTried = [...]byte{7, 9, 12}

// appendLine packs a line.
func appendLine(b []byte, line orb.LineString) []byte {
	decimals, first, last := byte(exactly), 0, len(line)
	if len(line) > 2 {
		for _, tried := range decimalsTried {
			if onSteps(line[1:len(line)-1], stepsPerDegree(tried)) {
				decimals = tried
				break
			}
		}
	}
	flags := uint64(0)
	if decimals != exactly {
		if steps := stepsPerDegree(decimals); !onSteps(line[:1], steps) {
			flags, first = flags|firstExact, 1
		}
		if steps := stepsPerDegree(decimals); !onSteps(line[len(line)-1:], steps) {
			flags, last = flags|lastExact, len(line)-1
		}
	}
	b = append(binary.AppendUvarint(b, uint64(len(line))<<ends|flags), decimals)
	for _, p := range line[:first] {
		b = geo.AppendPoint(b, p)
	}
	if decimals == exactly {
		for _, p := range line {
			b = geo.AppendPoint(b, p)
		}
		return b
	}
	steps, at := stepsPerDegree(decimals), [2]int64{}
	for _, p := range line[first:last] {
		for k, v := range p {
			now := int64(math.Round(v * steps))
			b = binary.AppendVarint(b, now-at[k])
			at[k] = now
		}
	}
	for _, p := range line[last:] {
		b = geo.AppendPoint(b, p)
	}
	return b
}

// stepsPerDegree returns 10 to the power of a number of decimals.
func stepsPerDegree(decimals byte) float64 { return math.Pow10(int(decimals)) }

// onSteps says whether coordinates come back, to the last bit, from whole steps. A minus sign of zero
// does not.
func onSteps(line orb.LineString, steps float64) bool {
	const most = 1 << 52
	for _, p := range line {
		for _, v := range p {
			scaled := math.Round(v * steps)
			if !(math.Abs(scaled) <= most) || math.Float64bits(float64(int64(scaled))/steps) != math.Float64bits(v) {
				return false
			}
		}
	}
	return true
}

// unpackLine returns the line that appendLine wrote.
func unpackLine(b []byte) orb.LineString {
	head, n := binary.Uvarint(b)
	decimals := b[n]
	b = b[n+1:]
	line := make(orb.LineString, head>>ends)
	if decimals == exactly {
		for i := range line {
			line[i], b = geo.PointOf(b), b[geo.BytesOfPoint:]
		}
		return line
	}
	first, last := 0, len(line)
	if head&firstExact != 0 {
		line[0], b = geo.PointOf(b), b[geo.BytesOfPoint:]
		first = 1
	}
	if head&lastExact != 0 {
		last--
	}
	steps, at := stepsPerDegree(decimals), [2]int64{}
	for i := first; i < last; i++ {
		for k := range at {
			step, n := binary.Varint(b)
			at[k] += step
			b = b[n:]
			line[i][k] = float64(at[k]) / steps
		}
	}
	if last < len(line) {
		line[last] = geo.PointOf(b)
	}
	return line
}
