package malformed

import "bytes"

// way is a kind of damage that any file can have.
type way struct {
	name   string
	damage func(whole []byte) []byte
}

var ways = []way{
	{"cut in half", func(b []byte) []byte { return b[:len(b)/2] }},
	{"cut by a byte", func(b []byte) []byte { return b[:len(b)-1] }},
	{"its first sixteen bytes", func(b []byte) []byte { return b[:16] }},
	{"its second half zeros", func(b []byte) []byte { return append(bytes.Clone(b[:len(b)/2]), make([]byte, len(b)-len(b)/2)...) }},
	{"its last quarter ones", func(b []byte) []byte {
		return append(bytes.Clone(b[:len(b)*3/4]), bytes.Repeat([]byte{0xff}, len(b)-len(b)*3/4)...)
	}},
	{"its halves swapped behind the mark", func(b []byte) []byte {
		half := len(b) / 2
		return append(append(bytes.Clone(b[:16]), b[half:]...), b[16:half]...)
	}},
	{"twice over", func(b []byte) []byte { return append(bytes.Clone(b), b...) }},
	{"a megabyte of zeros behind it", func(b []byte) []byte { return append(bytes.Clone(b), make([]byte, 1<<20)...) }},
	{"a kilobyte out of its middle", func(b []byte) []byte {
		from := len(b) / 2
		return append(bytes.Clone(b[:from]), b[min(len(b), from+1024):]...)
	}},
	{"noise in its middle third", noise},
	{"a bit of every 64th byte changed", func(b []byte) []byte {
		out := bytes.Clone(b)
		for i := 64; i < len(out); i += 64 {
			out[i] ^= 1 << (i / 64 % 8)
		}
		return out
	}},
}

// noise fills the middle third with random numbers from a fixed seed (Marsaglia 2003, xorshift).
func noise(b []byte) []byte {
	out := bytes.Clone(b)
	state := uint32(2463534242)
	for i := len(out) / 3; i < 2*len(out)/3; i++ {
		state ^= state << 13
		state ^= state >> 17
		state ^= state << 5
		out[i] = byte(state)
	}
	return out
}
