package margin

import (
	"cmp"
	"encoding/binary"
	"errors"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/internal/survey"
)

// ByRecord returns, by record, the error common to all patches of its observer, if first gives by
// record the first record of that observer. Such an error is numbered by that record. So it can be
// computed apart from the other records, and Named gives it its number among all Causes.
func ByRecord(first []int32) []int32 {
	out := make([]int32, len(first))
	for i, record := range first {
		out[i] = firstCause + record
	}
	return out
}

// FirstOf returns, by record of one quarter, the first record of the same observer.
func FirstOf(records []survey.Record) []int32 {
	out, first := make([]int32, len(records)), map[string]int32{}
	for i := range records {
		by := records[i].RecordedBy()
		if _, there := first[by]; !there {
			first[by] = int32(i)
		}
		out[i] = first[by]
	}
	return out
}

// Within says whether all errors numbered by a record are of one of the first n records.
func (s *Stand) Within(n int) bool {
	for _, f := range s.forms() {
		for _, t := range f.shared {
			if t.cause < 0 || t.cause >= firstCause && int(t.cause-firstCause) >= n {
				return false
			}
		}
	}
	return true
}

// Named gives the errors numbered by a record their number among all causes; of returns it.
func (s *Stand) Named(of func(record int32) int32) {
	for _, f := range s.forms() {
		for k, t := range f.shared {
			if t.cause >= firstCause {
				f.shared[k].cause = of(t.cause - firstCause)
			}
		}
		slices.SortFunc(f.shared, func(a, b term) int { return cmp.Compare(a.cause, b.cause) })
	}
}

func (s *Stand) forms() [3]*Form { return [3]*Form{&s.Infested, &s.Gross, &s.Canopy} }

// bytesOfTerm and bytesOfForm are the numbers of bytes of a term, and of a form without its terms.
const (
	bytesOfTerm = 12
	bytesOfForm = 16
)

// GobEncode returns the form as bytes, to be stored between two runs of the same version.
func (f Form) GobEncode() ([]byte, error) {
	f.shared = slices.Clone(f.shared)
	f.Settle()
	out := make([]byte, 0, bytesOfForm+bytesOfTerm*len(f.shared))
	out = binary.LittleEndian.AppendUint64(out, math.Float64bits(f.own))
	out = binary.LittleEndian.AppendUint64(out, math.Float64bits(float64(f.shift)))
	for _, t := range f.shared {
		out = binary.LittleEndian.AppendUint32(out, uint32(t.cause))
		out = binary.LittleEndian.AppendUint64(out, math.Float64bits(t.weight))
	}
	return out, nil
}

// GobDecode reads the bytes that GobEncode returned.
func (f *Form) GobDecode(b []byte) error {
	if len(b) < bytesOfForm || (len(b)-bytesOfForm)%bytesOfTerm != 0 {
		return errors.New("an error of acres of no whole number of terms")
	}
	number := func() float64 {
		v := math.Float64frombits(binary.LittleEndian.Uint64(b))
		b = b[8:]
		return v
	}
	*f = Form{own: number(), shift: geo.SquareMeters(number())}
	if n := len(b) / bytesOfTerm; n > 0 {
		f.shared, f.settled = make([]term, n), n
	}
	for i := range f.shared {
		f.shared[i].cause, b = int32(binary.LittleEndian.Uint32(b)), b[4:]
		f.shared[i].weight = number()
	}
	return nil
}
