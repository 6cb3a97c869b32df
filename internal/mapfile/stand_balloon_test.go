package mapfile

import (
	"archive/zip"
	"bytes"
	"io"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/result"
)

// A stand's balloon begins with what to do and where, then has acres and reach, then everything
// else, each field once, and names no setting.
func TestStandBalloonBeginsWithWhatToDo(t *testing.T) {
	run := fixture()
	s := &run.Stands[0]
	s.Advice.Requirements, s.FollowUp, s.Drift.RiverKm = []string{"have the permit"}, "treat <now>", 12.345
	m, table := &mapper{run: run}, result.StandTable(run)
	m.row = table.Row(run, 0, nil)
	got := string(m.appendStandBalloon(nil, table, 0))
	at := 0
	for _, want := range []string{
		"<p><b>Number 1 in the order of treatment</b>, untreated</p>", "<p>Next: treat &lt;now&gt;</p>",
		"<p>south, river km 12.3, latitude -34.25", "longitude -20.49", "<li>have the permit</li>", "Planning aid only",
		"<h4>Acres</h4>", "Infested area</td><td>1.00 acres", "<h4>Water below</h4>", "Stream at risk</td><td>1.3 km",
		"<h4>More</h4>", "Survey points</td><td>2", "stands.csv names them",
	} {
		k := strings.Index(got[at:], want)
		if k < 0 {
			t.Fatalf("%q is not there, or not after the one before:\n%s", want, got)
		}
		at += k
	}
	for _, name := range s.Assumed {
		if strings.Contains(got, name) {
			t.Errorf("the balloon names the setting %s", name)
		}
	}
	for _, f := range table.Fields {
		if n := strings.Count(got, "<td>"+f.Label+"</td>"); n > 1 {
			t.Errorf("%s stands in it %d times", f.Name, n)
		}
	}
	m.row = table.Row(run, 1, m.row)
	if got := string(m.appendStandBalloon(nil, table, 1)); !strings.HasPrefix(got, "<p><b>No treatment asked for now</b>, treated</p>") {
		t.Errorf("a treated stand: %.90s", got)
	}
}

// Only the address of a page or picture becomes a link, and no text breaks out of it.
func TestCarriedLinks(t *testing.T) {
	for in, want := range map[string]string{
		"https://example.org/a.jpg":    `<a href="https://example.org/a.jpg">https://example.org/a.jpg</a>`,
		"http://example.org/?a=1&b=2":  `<a href="http://example.org/?a=1&amp;b=2">http://example.org/?a=1&amp;b=2</a>`,
		`https://x/"onclick="alert(1)`: `<a href="https://x/&#34;onclick=&#34;alert(1)">https://x/&#34;onclick=&#34;alert(1)</a>`,
		"https://a b":                  "https://a b",
		"javascript:alert(1)":          "javascript:alert(1)",
		"see https://example.org":      "see https://example.org",
		"https://x/$[name]":            `<a href="https://x/&#36;[name]">https://x/&#36;[name]</a>`,
		"<b>https://example.org/a.jpg": "&lt;b&gt;https://example.org/a.jpg",
	} {
		if got := string(appendLinked(nil, in)); got != want {
			t.Errorf("%s became %s, want %s", in, got, want)
		}
	}
}

// GDAL, and programs built on it, read every field of a stand from the packed map as from the
// other.
func TestFieldsOfThePackedMap(t *testing.T) {
	if _, err := exec.LookPath("ogrinfo"); err != nil {
		t.Skip("ogrinfo is not installed (gdal-bin): the packed map's fields are not read")
	}
	run, dir := fixture(), t.TempDir()
	var seen [2][]string
	for k, name := range []string{"map.kml", "map.kmz"} {
		file := filepath.Join(dir, name)
		var b bytes.Buffer
		write := []func(io.Writer, *result.Run, int) error{writeKML, writeKMZ}[k]
		if err := write(&b, run, 1); err != nil {
			t.Fatal(err)
		}
		save(t, file, b.Bytes())
		out, err := exec.Command("ogrinfo", "-so", file, "Aquatic-zone stands").Output()
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`(?m)^(\w+): (?:String|Real|Integer)`).FindAllStringSubmatch(string(out), -1) {
			seen[k] = append(seen[k], m[1])
		}
	}
	for k, name := range []string{"map.kml", "map.kmz"} {
		for _, want := range []string{"stand_id", "infested_acres", "requirements", "treat_order", "water_use_high_acft"} {
			if !slices.Contains(seen[k], want) {
				t.Errorf("%s: GDAL does not see %s among %v", name, want, seen[k])
			}
		}
	}
	if len(seen[1]) < 40 {
		t.Errorf("GDAL sees %d fields of the packed map: %v", len(seen[1]), seen[1])
	}
}

// Every entry of the packed map has a valid date.
func TestPackedMapIsDated(t *testing.T) {
	var b bytes.Buffer
	if err := writeKMZ(&b, fixture(), 2); err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range z.File {
		if got := f.Modified.Format("2006-01-02 15:04:05"); got != "1980-01-01 00:00:00" {
			t.Errorf("%s is dated %s", f.Name, got)
		}
	}
}
