package settings

import (
	"fmt"
	"io"
	"strconv"
)

// ReportSettings is the [report] table.
type ReportSettings struct {
	Title     string  `toml:"title" json:"title"`
	Programme string  `toml:"programme" json:"programme"`
	GoalAcres float64 `toml:"goal_acres" json:"goal_acres"`
	GoalYear  int     `toml:"goal_year" json:"goal_year"`
}

// reportPrefix begins the settings of what the pages say, on which no figure rests.
const reportPrefix = "report."

// ownWords is the source of what only a programme knows.
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

// ReportOf returns the table of settings as manifests hold them; what is missing there is
// as it is by default.
func ReportOf(all map[string]any) ReportSettings {
	var s ReportSettings
	table, _ := all["report"].(map[string]any)
	s.Title, _ = table["title"].(string)
	s.Programme, _ = table["programme"].(string)
	s.GoalAcres, _ = table["goal_acres"].(float64)
	year, _ := table["goal_year"].(float64)
	s.GoalYear = int(year)
	return s
}

// WriteReport writes name and goal of a programme as a table of a settings file.
func WriteReport(w io.Writer, s ReportSettings) error {
	_, err := fmt.Fprintf(w, "\n# What the pages are headed with, and the live acres to be down to.\n[report]\nprogramme = %s\ngoal_acres = %s\ngoal_year = %d\n",
		strconv.Quote(s.Programme), Number(s.GoalAcres), s.GoalYear)
	return err
}
