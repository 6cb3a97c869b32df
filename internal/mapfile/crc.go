package mapfile

import "hash/crc32"

// crcOfBoth returns the CRC-32 of two texts one after the other, from those of both and the length of
// the second. A checksum is the remainder of a polynomial with coefficients 0 and 1; a text behind the
// first multiplies it by x for each of its bits (Williams 1993, A painless guide to CRC error detection
// algorithms).
func crcOfBoth(first, second uint32, length uint64) uint32 {
	// x to the power of 8, in the reflected form of crc32.IEEE: the highest bit is the coefficient of 1
	power := uint32(1) << 23
	for ; length > 0; length >>= 1 {
		if length&1 > 0 {
			first = crcProduct(first, power)
		}
		power = crcProduct(power, power)
	}
	return first ^ second
}

// crcProduct multiplies two remainders.
func crcProduct(a, b uint32) (out uint32) {
	for bit := uint32(1) << 31; bit > 0; bit >>= 1 {
		if a&bit > 0 {
			out ^= b
		}
		if b&1 > 0 {
			b = b>>1 ^ crc32.IEEE
		} else {
			b >>= 1
		}
	}
	return out
}
