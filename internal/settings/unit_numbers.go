package settings

// numbers drops the unit's type; the key's name carries the unit.
func numbers[T ~float64](values []T) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = float64(v)
	}
	return out
}

// inUnit returns plain numbers in a unit.
func inUnit[T ~float64](values []float64) []T {
	out := make([]T, len(values))
	for i, v := range values {
		out[i] = T(v)
	}
	return out
}
