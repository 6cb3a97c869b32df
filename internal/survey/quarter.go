package survey

// Quarter is a calendar quarter.
type Quarter struct {
	Year   int
	Number int // 1..4
}
