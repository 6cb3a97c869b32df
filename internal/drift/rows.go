package drift

import (
	"encoding/binary"
	"math"

	"driftreach/geo"
	"driftreach/geo/linear"
)

// row is the result of one draw. Its figures by stand are in memory, or in a text elsewhere.
type row struct {
	reach    []drawnReach    // by stand that is followed in each draw, see ensemble.single
	exposure []DrawnExposure // by stand
	atRisk   geo.Kilometers

	far linear.Far // of the exposures, then the reaches, if they are not in memory
}

// bytesOfFigure is the size of a figure in the text.
const bytesOfFigure = 4

// putFar puts the figures elsewhere. It writes their text in room, and returns that for the next row.
func (r *row) putFar(room []byte, put func(text []byte) linear.Far) []byte {
	text := appendFigures(appendFigures(room[:0], r.exposure), r.reach)
	r.far, r.exposure, r.reach = put(text), nil, nil
	return text
}

func appendFigures[U ~float32](text []byte, figures []U) []byte {
	for _, v := range figures {
		text = binary.LittleEndian.AppendUint32(text, math.Float32bits(float32(v)))
	}
	return text
}

// exposures returns the exposures of n stands from the first.
func (r *row) exposures(first, n int) []DrawnExposure {
	if r.far == nil {
		return r.exposure[first : first+n]
	}
	return figuresOf[DrawnExposure](r.far, first, n)
}

// reaches returns the reaches of n of the stands that are followed in each draw, from the first. stands is
// how many stands there are in all.
func (r *row) reaches(first, n, stands int) []drawnReach {
	if r.far == nil {
		return r.reach[first : first+n]
	}
	return figuresOf[drawnReach](r.far, stands+first, n)
}

func figuresOf[U ~float32](far linear.Far, first, n int) []U {
	text := far.Part(nil, first*bytesOfFigure, n*bytesOfFigure)
	out := make([]U, n)
	for i := range out {
		out[i] = U(math.Float32frombits(binary.LittleEndian.Uint32(text[i*bytesOfFigure:])))
	}
	return out
}
