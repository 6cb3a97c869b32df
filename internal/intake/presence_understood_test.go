package intake

import (
	"errors"
	"strings"
	"testing"

	"driftreach/internal/format"
	"driftreach/internal/testkit"
)

// TestPresenceUnderstood: when the words of a column say whether the plant was found, when they say
// nothing, and when it must be asked: each side of every bound, by hand. "Found" claims to say it, "Seen"
// may, "Absent" says the opposite, and of "Gate" and "Status" the words alone tell.
func TestPresenceUnderstood(t *testing.T) {
	const nobody = "nobody can know whether the plant was found there"
	for _, c := range []struct{ column, words, want string }{ // words between bars; want as found, or what is asked
		{"Found", "", "+"}, {"Found", "|", "++"}, {"Found", "||", "+++"},
		{"Found", "no", "-"}, {"Found", "yes", "+"}, {"Found", "yes|none found|Nothing found|undetected|none seen", "+----"}, {"Found", "yes|no", "+-"}, {"Found", "no|", "-+"},
		{"Found", "yes|", `the column "Found" has yes in 1 records and is blank in 1: ` + nobody}, {"Found", "yes|y||Y", `the column "Found" has Y, y, yes in 3 records and is blank in 1: ` + nobody},
		{"Found", "2026-07-01", "+"}, {"Found", "2026-07-01|2026-07-01|", "+++"}, {"Found", "2026-07-01|2026-07-02", "++"},
		{"Found", "2026-07-01|yes", `the column "Found" says whether the plant was found, in words that are not known: 2026-07-01`},
		{"Found", "2026-07-01|no", `the column "Found" says whether the plant was found, in words that are not known: 2026-07-01`},
		{"Found", "2026-07-01|perhaps", `the column "Found" says whether the plant was found, in words that are not known: 2026-07-01, perhaps`},
		{"Found", "perhaps", `the column "Found" says whether the plant was found, in words that are not known: perhaps`},
		{"Found", "g|e|d|c|b|a", `in words that are not known: a, b, c, d, e and 1 more`}, {"Found", "e|d|c|b|a", `in words that are not known: a, b, c, d, e; write`},
		{"Found", "d|c|b|a", `write occurrenceStatus = "Found" under [columns.points] and "a" = "detected" or "notDetected", "b" = "detected" or "notDetected", "c" = "detected" or "notDetected" under [values.occurrenceStatus]`},
		{"Seen", "yes", "+"}, {"Seen", "no", "+"}, {"Seen", "yes|no", "+-"}, {"Seen", "yes|no|perhaps", "+++"}, {"Seen", "no|yes|", "-++"},
		{"Absent", "yes", `the column "Absent" says that the plant was not found, and its yes may mean no`}, {"Absent", "", "+"},
		{"Status", "absent", "-"}, {"Status", "absent|not detected", "--"}, {"Status", "absent|", "-+"}, {"Status", "present", "+"}, {"Status", "no|yes", "++"},
		{"Status", "absent|perhaps", `the column "Status" says of 1 records that the plant was not found, and has words that are not known: perhaps`},
		{"Status", "absent|present|tall|small", `the column "Status" says of 1 records that the plant was not found, and has words that are not known: small, tall`},
		{"Status", "absent|tall|small", "+++"}, {"Status", "absent|tall|tall", "+++"}, {"Status", "absent|tall|||", `says of 1 records that the plant was not found`},
	} {
		p, findings, err := ReadPoints(testkit.Source("points", strings.NewReader(sheet(c.column, strings.Split(c.words, "|")...))), testOptions())
		if strings.Trim(c.want, "+-") == "" {
			wanted := "" // told where an absence makes a difference, or the name claims it
			if strings.Contains(c.want, "-") || c.words == "yes" && c.column == "Found" {
				wanted = "presence-by-name"
			}
			got := ""
			if strings.Contains(codes(findings), "presence-by-name") {
				got = "presence-by-name"
			}
			if err != nil || found(p) != c.want || got != wanted {
				t.Errorf("%s %q: %s, want %s; %s; %v", c.column, c.words, found(p), c.want, got, err)
			}
			continue
		}
		var unusable *format.UnusableError
		if !errors.As(err, &unusable) || !strings.Contains(err.Error()+"; "+unusable.Remedy, c.want) && !strings.Contains(unusable.Found+"; "+unusable.Remedy, c.want) {
			t.Errorf("%s %q: %v, want %s", c.column, c.words, err, c.want)
		}
	}
}
