package demo

// What the invented programme has. Our choice: about a ninth of the acres at the end, so
// that a plan has to choose.
const (
	Budget          = 2.0 // acres that its crews treat in a quarter
	PlannedQuarters = 4   // that are planned ahead

	Programme = "Iskarrow and Tullimar cane programme" // invented, as its rivers are
	GoalAcres = 12.0                                   // live ones, at the end of GoalYear
	GoalYear  = 2028
)
