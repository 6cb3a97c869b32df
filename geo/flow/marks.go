package flow

import "math/bits"

// marks are numbers from 0, each marked or not, from which the next marked one is taken fast: a bit for
// each, and a bit for each 64 of them among which any is marked.
type marks struct{ bits, any []uint64 }

// newMarks returns n numbers, none marked.
func newMarks(n int) marks {
	words := (n + 63) / 64
	return marks{make([]uint64, words), make([]uint64, (words+63)/64)}
}

// add marks a number.
func (m *marks) add(i int32) {
	word := i >> 6
	m.bits[word] |= 1 << (i & 63)
	m.any[word>>6] |= 1 << (word & 63)
}

// take returns the first marked number that is not below from, and unmarks it; -1 for none.
func (m *marks) take(from int32) int32 {
	word := int(from >> 6)
	if word >= len(m.bits) {
		return -1
	}
	found := m.bits[word] >> (from & 63) << (from & 63)
	if found == 0 {
		if word = m.next(word + 1); word < 0 {
			return -1
		}
		found = m.bits[word]
	}
	bit := bits.TrailingZeros64(found)
	if m.bits[word] &^= 1 << bit; m.bits[word] == 0 {
		m.any[word>>6] &^= 1 << (word & 63)
	}
	return int32(word<<6 + bit)
}

// next returns the first word, from one on, in which any number is marked; -1 for none.
func (m *marks) next(word int) int {
	group := word >> 6
	if group >= len(m.any) {
		return -1
	}
	found := m.any[group] >> (word & 63) << (word & 63)
	for found == 0 {
		if group++; group == len(m.any) {
			return -1
		}
		found = m.any[group]
	}
	return group<<6 + bits.TrailingZeros64(found)
}
