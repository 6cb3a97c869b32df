package settings

// ownWords is the source of texts that only a programme knows.
const ownWords = "yours: blank is the page's own words"

var reportTable = []Setting{
	{"report.title", "", Practice, "title of report.html and trend.html", ownWords, inWordsOrBlank(),
		func(s *Settings) any { return &s.Report.Title }},
	{"report.programme", "", Practice, "name of the programme, in the head of these pages and of crew.html", ownWords, inWordsOrBlank(),
		func(s *Settings) any { return &s.Report.Programme }},
	{"report.goal_acres", "ac", Practice, "live acres that the programme wants to be down to at the end of report.goal_year", "yours", within(0, 1e7),
		func(s *Settings) any { return &s.Report.GoalAcres }},
	{"report.goal_year", "year", Practice, "year of that goal; 0 for no goal", "yours", within(0, 9999),
		func(s *Settings) any { return &s.Report.GoalYear }},
}
