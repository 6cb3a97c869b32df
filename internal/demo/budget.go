package demo

// What the invented programme can spend. Our choice: about a ninth of the acres at the end, so that a
// plan has to choose.
const (
	Budget          = 2.0 // acres that its crews can treat in a quarter
	PlannedQuarters = 4   // number of quarters in the plan

	Programme = "Iskarrow and Tullimar cane programme" // invented, like its rivers
	GoalAcres = 12.0                                   // live acres, at the end of GoalYear
	GoalYear  = 2028
)
