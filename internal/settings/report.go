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

// ReportOf returns the table from settings in the form of a manifest. Missing keys get their defaults.
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

// WriteReport writes a programme's name and goal as a table of a settings file.
func WriteReport(w io.Writer, s ReportSettings) error {
	_, err := fmt.Fprintf(w, "\n# What the pages are headed with, and the live acres to be down to.\n[report]\nprogramme = %s\ngoal_acres = %s\ngoal_year = %d\n",
		strconv.Quote(s.Programme), Number(s.GoalAcres), s.GoalYear)
	return err
}
