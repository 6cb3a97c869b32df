package xlsx

import "testing"

// TestFormatsOfNumbers: the built-in number formats that show a day (ECMA-376 part 1, 18.8.30: 14 to 17
// and 22; 18 to 21 and 45 to 47 show a time alone) or a share in percent (9 and 10), and codes (18.8.31)
// with a letter for days or years, or a percent sign, outside of quotes, brackets and escapes.
func TestFormatsOfNumbers(t *testing.T) {
	builtIn := map[string]shows{"14": asDate, "15": asDate, "16": asDate, "17": asDate, "22": asDate, "9": asPercent, "10": asPercent}
	for _, id := range []string{"", "0", "1", "2", "8", "9", "10", "11", "12", "13", "14", "15", "16", "17", "18", "19", "20", "21", "22", "23", "45", "46", "47", "49"} {
		if got := formatShows(id, ""); got != builtIn[id] {
			t.Errorf("built-in %s shows %v", id, got)
		}
	}
	for show, codes := range map[shows][]string{
		asDate:    {"yyyy-mm-dd", "D/M/YY", "[$-409]d", `"on" d`, `\d d`, "[red]yy", "y", "d", `"[" d`, `\"d\"`, `\\d`, `"\"d`, `"_"d`, `"*"y`, "0% d"},
		asPercent: {"0%", "0.00%", "[red]0 %", `"d" 0%`, `\d0%`},
		plainly:   {"", "General", "0.00", "h:mm:ss", `"day"`, `0 "d"`, `\d0`, "_d0", "*d0", "[$-d]0", "[red]0", `"a""d"0`, `0\%`, `0"%"`, "0_%", "[%]0"},
	} {
		for _, code := range codes {
			if got := formatShows("164", code); got != show {
				t.Errorf("%s shows %v, want %v", code, got, show)
			}
		}
	}
}
