package demo

// What the invented programme has. Our choice: about a ninth of what stands at the end, so
// that a plan has to choose.
const (
	Budget          = 2.0 // acres that its crews treat in a quarter
	PlannedQuarters = 4   // that are planned ahead
)
