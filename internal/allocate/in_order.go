package allocate

import "slices"

// inOrder returns the keys of amounts ascending, with -1 last, and the amounts in that order.
func inOrder(amounts map[int32]float64) (keys []int32, in []float64) {
	for key := range amounts { // sorted below
		keys = append(keys, key)
	}
	slices.Sort(keys)
	if len(keys) > 0 && keys[0] < 0 {
		keys = append(keys[1:], keys[0])
	}
	for _, key := range keys {
		in = append(in, amounts[key])
	}
	return keys, in
}
