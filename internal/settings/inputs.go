package settings

import (
	"fmt"
	"io"
	"strings"

	"driftreach/internal/intake"
	"driftreach/internal/survey"
)

// InputSettings is the [inputs] table: the files of every quarter and where its
// batch goes, so that a quarter needs its name alone. Paths count from the folder of
// the settings file.
type InputSettings struct {
	Points      intake.Names `toml:"points"`
	Streams     string       `toml:"streams"`
	Works       string       `toml:"works"`
	Units       string       `toml:"units"`
	Surveyed    intake.Names `toml:"surveyed"`
	Treatments  intake.Names `toml:"treatments"`
	Corrections intake.Names `toml:"corrections"`
	Barriers    string       `toml:"barriers"`
	Water       string       `toml:"water"`

	PointsCRS     string `toml:"points_crs"`
	StreamsCRS    string `toml:"streams_crs"`
	WorksCRS      string `toml:"works_crs"`
	UnitsCRS      string `toml:"units_crs"`
	SurveyedCRS   string `toml:"surveyed_crs"`
	TreatmentsCRS string `toml:"treatments_crs"`
	BarriersCRS   string `toml:"barriers_crs"`
	WaterCRS      string `toml:"water_crs"`

	Previous string `toml:"previous"`
	Out      string `toml:"out"`
}

// inputKey is one key of the table: the names it holds and whether they are paths.
type inputKey struct {
	name string
	many *intake.Names
	one  *string
}

// keys returns the keys in the order of the settings file.
func (s *InputSettings) keys() []inputKey {
	return []inputKey{
		{"points", &s.Points, nil}, {"streams", nil, &s.Streams}, {"works", nil, &s.Works}, {"units", nil, &s.Units},
		{"surveyed", &s.Surveyed, nil}, {"treatments", &s.Treatments, nil}, {"barriers", nil, &s.Barriers}, {"water", nil, &s.Water}, {"corrections", &s.Corrections, nil},
		{"points_crs", nil, &s.PointsCRS}, {"streams_crs", nil, &s.StreamsCRS}, {"works_crs", nil, &s.WorksCRS}, {"units_crs", nil, &s.UnitsCRS},
		{"surveyed_crs", nil, &s.SurveyedCRS}, {"treatments_crs", nil, &s.TreatmentsCRS}, {"barriers_crs", nil, &s.BarriersCRS}, {"water_crs", nil, &s.WaterCRS},
		{"previous", nil, &s.Previous}, {"out", nil, &s.Out},
	}
}

// lines are the keys that are set, as a settings file has them.
func (s InputSettings) lines() []string {
	var out []string
	for _, k := range s.keys() {
		switch {
		case k.many != nil && len(*k.many) > 0:
			out = append(out, k.name+" = "+QuoteNames(*k.many))
		case k.one != nil && *k.one != "":
			out = append(out, k.name+" = "+tomlText(*k.one))
		}
	}
	return out
}

// WriteInputs writes a settings file of the table alone.
func WriteInputs(w io.Writer, s InputSettings) error {
	_, err := fmt.Fprintf(w, "# One quarter: driftreach batch --settings FILE --quarter 2026Q3. Paths count from\n"+
		"# this file; %s and %s are the batch's quarter and the one before.\n[inputs]\n%s\n",
		quarterMark, previousMark, strings.Join(s.lines(), "\n"))
	return err
}

// The placeholders for the batch's quarter and the one before it.
const (
	quarterMark  = "{quarter}"
	previousMark = "{previous_quarter}"
)

// check returns what is wrong with the table.
func (s InputSettings) check(where string) error {
	for _, k := range s.keys() {
		names := intake.Names{}
		if k.many != nil {
			names = *k.many
		} else if *k.one != "" {
			names = intake.Names{*k.one}
		}
		for _, name := range names {
			rest := strings.NewReplacer(quarterMark, "", previousMark, "").Replace(name)
			if i := strings.IndexByte(rest, '{'); i >= 0 || name == "" {
				return &Error{
					Where: where, Problem: fmt.Sprintf("inputs.%s cannot be %q", k.name, name),
					Remedy: "name a file; " + quarterMark + " and " + previousMark + " stand for the quarters, * and ? for letters of a name",
				}
			}
		}
	}
	return nil
}

// FillQuarter returns a name of the table with the quarters in place of the marks;
// false where it has marks and there is no quarter.
func FillQuarter(name string, q survey.Quarter) (string, bool) {
	if q.IsZero() {
		return name, !strings.Contains(name, quarterMark) && !strings.Contains(name, previousMark)
	}
	return strings.NewReplacer(quarterMark, q.String(), previousMark, q.Previous().String()).Replace(name), true
}
