package report_test

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"driftreach/internal/report"
	"driftreach/internal/testkit"
	"driftreach/internal/testkit/quarter"
)

var styles = regexp.MustCompile(`(?s)<style>.*?</style>`)

// TestKeptQuarter: the page and the crew's sheets of the second quarter of a chain, with a plan, work at
// the water, a stand that nobody visited and one that is gone. Looked at in a browser (Chromium), each
// figure against the tables of the same folder, 2026-11-28.
func TestKeptQuarter(t *testing.T) {
	s := quarter.Rules()
	s.Plan.Budget, s.Plan.Unit, s.Plan.SetUp, s.Plan.PerAcre, s.WaterWork.Write = 900, "hours", 20, 4000, "always"
	s.Report.Title, s.Report.Programme, s.Report.GoalAcres, s.Report.GoalYear = "Reed along Long Water", "Water Board", 0.1, 2027
	dir, run, _ := quarter.TwoBy(t, s)
	page, err := os.ReadFile(filepath.Join(dir, "report.html"))
	if err != nil {
		t.Fatal(err)
	}
	testkit.Kept(t, "quarter.html", styles.ReplaceAll(page, []byte("<style></style>")))
	var crew bytes.Buffer
	if err := report.WriteCrew(&crew, run); err != nil {
		t.Fatal(err)
	}
	testkit.Kept(t, "crew.html", styles.ReplaceAll(crew.Bytes(), []byte("<style></style>")))
}
