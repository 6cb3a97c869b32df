package xlsx

import "testing"

// TestDateFormats: the built-in number formats that show a day (ECMA-376 part 1, 18.8.30: 14 to 17 and
// 22; 18 to 21 and 45 to 47 show a time alone), and codes (18.8.31) with a letter for days or years
// outside of quotes, brackets and escapes.
func TestDateFormats(t *testing.T) {
	builtIn := map[string]bool{"14": true, "15": true, "16": true, "17": true, "22": true}
	for _, id := range []string{"", "0", "1", "2", "9", "11", "12", "13", "14", "15", "16", "17", "18", "19", "20", "21", "22", "23", "45", "46", "47", "49"} {
		if got := isDateFormat(id, ""); got != builtIn[id] {
			t.Errorf("built-in %s: %v", id, got)
		}
	}
	for code, want := range map[string]bool{
		"yyyy-mm-dd": true, "D/M/YY": true, "[$-409]d": true, `"on" d`: true, `\d d`: true, "[red]yy": true, "y": true, "d": true,
		"": false, "General": false, "0.00": false, "h:mm:ss": false, `"day"`: false, `0 "d"`: false, `\d0`: false, "_d0": false, "*d0": false,
		"[$-d]0": false, "[red]0": false, `"a""d"0`: false, `"[" d`: true, `\"d\"`: true, `\\d`: true, `"\"d`: true,
	} {
		if got := isDateFormat("164", code); got != want {
			t.Errorf("%s: %v", code, got)
		}
	}
}
