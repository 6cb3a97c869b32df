package settings

// numbers converts values to plain numbers; the unit is in the name of the key.
func numbers[T ~float64](values []T) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = float64(v)
	}
	return out
}

// inUnit converts plain numbers to values with a unit.
func inUnit[T ~float64](values []float64) []T {
	out := make([]T, len(values))
	for i, v := range values {
		out[i] = T(v)
	}
	return out
}
