package stream

import (
	"bytes"
	"cmp"
	"crypto/sha256"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strconv"

	"github.com/paulmach/orb"
)

// digestDecimals are the decimals of a degree to which positions are rounded before hashing: a step
// of at most 11 mm, the common precision of RFC 7946 files. So rounding a file to this precision
// does not change its digest.
const digestDecimals = 7

// digestDigits are the significant digits of all other numbers, few enough to survive a file with
// fixed decimals or another unit. Our choice.
const digestDigits = 9

// Digest returns the SHA-256 of the content of centerlines, blank for no lines. It stays the same
// for another file format or name, another order, other ids, lines grouped into features
// differently, and positions rounded to 7 decimals of a degree. It changes with the course and
// direction of the lines, their attributes and their names. Linear in vertices.
func Digest(lines []Centerline) string {
	return digest(len(lines), func(d *digester, i int) {
		l := &lines[i]
		d.texts(l.Name, l.FromNode, l.ToNode, string(l.Barrier), string(l.Permanence))
		d.numbers(float64(l.Divergence), float64(l.Order), l.Sequence, float64(l.FlowShare), float64(l.BankfullWidth), float64(l.MeanVelocity), float64(l.Drainage),
			float64(l.Discharge), float64(l.MeanDischarge), l.Slope, float64(l.BarrierPass), float64(l.Length), float64(l.LocalArea))
		d.flags(l.Rises, l.Coast)
		d.path(l.Path)
	})
}

// DigestStructures returns the digest of point barriers, see Digest.
func DigestStructures(all []Structure) string {
	return digest(len(all), func(d *digester, i int) {
		d.texts(string(all[i].Kind))
		d.numbers(float64(all[i].Pass))
		d.path([]orb.Point{all[i].Position})
	})
}

// DigestSurfaces returns the digest of water surfaces, see Digest. The first corner and the winding
// of a ring do not matter.
func DigestSurfaces(all []Surface) string {
	return digest(len(all), func(d *digester, i int) {
		d.texts(string(all[i].Kind))
		var polygons [][]byte
		for _, polygon := range all[i].Areas {
			rings := make([][]byte, len(polygon))
			for k, ring := range polygon {
				one := digester{}
				one.ring(ring)
				rings[k] = one.text
			}
			slices.SortFunc(rings[min(1, len(rings)):], bytes.Compare) // the outer ring stays first
			polygons = append(polygons, binary.LittleEndian.AppendUint64(bytes.Join(rings, nil), uint64(len(rings))))
		}
		slices.SortFunc(polygons, bytes.Compare)
		d.text = append(d.text, bytes.Join(polygons, nil)...)
	})
}

// digest returns the hash of n things, in any order. write writes thing i.
func digest(n int, write func(d *digester, i int)) string {
	if n == 0 {
		return ""
	}
	sums := make([][sha256.Size]byte, n)
	var d digester
	for i := range sums {
		d.text = d.text[:0]
		write(&d, i)
		sums[i] = sha256.Sum256(d.text)
	}
	slices.SortFunc(sums, func(a, b [sha256.Size]byte) int { return bytes.Compare(a[:], b[:]) })
	all := sha256.New()
	for i := range sums {
		all.Write(sums[i][:]) // a hash never returns an error
	}
	return fmt.Sprintf("%x", all.Sum(nil))
}

// digester writes one thing as text that differs from the text of any other.
type digester struct{ text []byte }

func (d *digester) texts(all ...string) {
	for _, one := range all {
		d.text = append(strconv.AppendQuote(d.text, one), ' ')
	}
}

func (d *digester) numbers(all ...float64) {
	for _, v := range all {
		if v == 0 {
			v = 0 // removes the sign of -0
		}
		d.text = append(strconv.AppendFloat(d.text, v, 'g', digestDigits, 64), ' ')
	}
}

func (d *digester) flags(all ...bool) {
	for _, one := range all {
		d.text = append(strconv.AppendBool(d.text, one), ' ')
	}
}

// place is a position in steps of 10^-digestDecimals degrees.
type place [2]int64

// fullTurn is 360 degrees in those steps.
const fullTurn = 360e7

// placeOf rounds a position to digestDecimals decimals. A longitude of 180 becomes -180.
func placeOf(p orb.Point) place {
	at := place{steps(p[0]), steps(p[1])}
	at[0] = ((at[0]+fullTurn/2)%fullTurn+fullTurn)%fullTurn - fullTurn/2
	return at
}

// steps returns degrees in whole steps, rounded as decimal text is. Close to half a step it uses
// the text itself, because there the product may round the other way.
func steps(degrees float64) int64 {
	scaled := degrees * 1e7
	whole := math.Floor(scaled)
	if math.Abs(scaled-whole-0.5) > 1e-4 {
		return int64(math.Round(scaled))
	}
	text, _ := strconv.ParseFloat(strconv.FormatFloat(degrees, 'f', digestDecimals, 64), 64) // text written by FormatFloat always parses
	return int64(math.Round(text * 1e7))
}

// places returns the rounded positions, without repeats.
func places(path []orb.Point) []place {
	out := make([]place, len(path))
	for i, p := range path {
		out[i] = placeOf(p)
	}
	return slices.Compact(out)
}

func (d *digester) path(path []orb.Point) { d.places(places(path)) }

func (d *digester) places(all []place) {
	d.text = binary.LittleEndian.AppendUint64(d.text, uint64(len(all)))
	for _, at := range all {
		d.text = binary.LittleEndian.AppendUint64(binary.LittleEndian.AppendUint64(d.text, uint64(at[0])), uint64(at[1]))
	}
}

// ring writes a ring from its smallest corner, in the direction that sorts first.
func (d *digester) ring(ring orb.Ring) {
	corners := places(ring)
	if n := len(corners); n > 1 && corners[0] == corners[n-1] {
		corners = corners[1:]
	}
	forward := fromLeast(corners)
	slices.Reverse(corners)
	if backward := fromLeast(corners); comparePlaces(backward, forward) < 0 {
		forward = backward
	}
	d.places(forward)
}

// fromLeast returns a ring's corners starting with the smallest. If the smallest occurs more than
// once, because the ring touches itself, it starts with the one whose following corners sort first.
func fromLeast(corners []place) []place {
	if len(corners) == 0 {
		return nil
	}
	best := slices.Concat(corners)
	least := slices.MinFunc(corners, comparePlace)
	for i := range corners {
		if corners[i] != least {
			continue
		}
		if from := slices.Concat(corners[i:], corners[:i]); comparePlaces(from, best) < 0 {
			best = from
		}
	}
	return best
}

func comparePlaces(a, b []place) int { return slices.CompareFunc(a, b, comparePlace) }

func comparePlace(a, b place) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) }
