package cell

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// cutNumber splits a text after its leading number.
func cutNumber(s string) (number, rest string) {
	end := 0
	for i, r := range s {
		digit := r >= '0' && r <= '9' || fractions[r] > 0
		if !digit && !isNumberMark(r) && !(i == 0 && (r == '-' || r == '+')) {
			break
		}
		if digit {
			end = i + len(string(r))
		}
	}
	return s[:end], strings.TrimSpace(s[end:])
}

func isNumberMark(r rune) bool {
	return r == '.' || r == ',' || r == '/' || r == '\'' || r == '’' || unicode.IsSpace(r)
}

// fractions are the characters for fractions.
var fractions = map[rune]float64{'½': 0.5, '¼': 0.25, '¾': 0.75, '⅓': 1.0 / 3, '⅔': 2.0 / 3, '⅛': 0.125}

// parseWritten reads digits with marks between them.
func parseWritten(s string, point, comma bool) (float64, bool) {
	if s == "" {
		return 0, false
	}
	for letter, part := range fractions { // one at most
		if whole, found := strings.CutSuffix(s, string(letter)); found {
			v, ok := 0.0, true
			if whole = strings.TrimSpace(whole); whole != "" {
				v, ok = parseWritten(whole, point, comma)
			}
			return v + part, ok
		}
	}
	if above, below, found := strings.Cut(s, "/"); found {
		return parseFraction(above, below)
	}
	plain, ok := ungrouped(s, point, comma)
	if !ok {
		return 0, false
	}
	v, err := strconv.ParseFloat(plain, 64)
	return v, err == nil && !math.IsInf(v, 0)
}

// denominators are those of fractions in measures; others belong to dates and codes.
var denominators = []float64{2, 3, 4, 5, 8, 10, 16}

// parseFraction reads 1/2 and 1 1/2.
func parseFraction(above, below string) (float64, bool) {
	words := strings.Fields(above)
	if len(words) == 0 || len(words) > 2 {
		return 0, false
	}
	whole := 0.0
	if len(words) == 2 {
		n, err := strconv.ParseUint(words[0], 10, 32)
		if err != nil {
			return 0, false
		}
		whole = float64(n)
	}
	a, err1 := strconv.ParseUint(words[len(words)-1], 10, 32)
	b, err2 := strconv.ParseUint(strings.TrimSpace(below), 10, 32)
	if err1 != nil || err2 != nil || a >= b || !slices.Contains(denominators, float64(b)) {
		return 0, false
	}
	return whole + float64(a)/float64(b), true
}

// ungrouped takes out the marks between thousands and turns the decimal mark into a point. In
// a number with point and comma the last one is decimal.
func ungrouped(s string, point, comma bool) (string, bool) {
	sign := ""
	if s[0] == '-' || s[0] == '+' {
		sign, s = s[:1], s[1:]
	}
	decimal := rune('.')
	dots, commas := strings.Count(s, "."), strings.Count(s, ",")
	switch {
	case dots > 0 && commas > 0 && strings.LastIndexByte(s, ',') > strings.LastIndexByte(s, '.'):
		decimal = ','
	case dots > 0 && commas > 0:
	case commas == 1 && !point && !maybeThousands([]byte(s)):
		decimal = ','
	case commas == 1 && !point, dots == 1 && comma && !threeAfter(s, '.'):
		return "", false // it may mean thousands or thousandths
	case dots > 1, dots == 1 && comma:
		decimal = ','
	}
	whole, part, found := strings.Cut(s, string(decimal))
	if found && strings.ContainsFunc(part, func(r rune) bool { return r < '0' || r > '9' }) {
		return "", false
	}
	whole, ok := joinGroups(whole)
	return sign + whole + "." + part, ok && whole+part != ""
}

// threeAfter says whether exactly three digits follow the mark.
func threeAfter(s string, mark byte) bool { return len(s)-strings.IndexByte(s, mark) == 4 }

// joinGroups takes out the marks between groups of three digits; all marks must be alike.
func joinGroups(s string) (string, bool) {
	groups := strings.FieldsFunc(s, func(r rune) bool { return r < '0' || r > '9' })
	between := strings.FieldsFunc(s, func(r rune) bool { return r >= '0' && r <= '9' })
	if len(groups) == 0 {
		return "", s == ""
	}
	if len(between) != len(groups)-1 || s[0] < '0' || s[0] > '9' || len(between) > 0 && len(groups[0]) > 3 {
		return "", false
	}
	for i, mark := range between {
		if mark != between[0] || len([]rune(mark)) != 1 || len(groups[i+1]) != 3 {
			return "", false
		}
	}
	return strings.Join(groups, ""), true
}

// feetAndInches reads 5'6", 5' 6 and 5 ft 6 in, in feet. A 2 or 3 directly after the letters
// is not inches: 1200 ft2 is an area.
func feetAndInches(s string) (float64, bool) {
	for _, mark := range []string{"'", "’", "feet", "ft"} {
		feet, inches, found := strings.Cut(s, mark)
		if !found || mark >= "a" && (inches == "2" || inches == "3") {
			continue
		}
		inches = strings.TrimSpace(inches)
		for _, end := range []string{"\"", "”", "''", "inches", "in"} {
			inches = strings.TrimSpace(strings.TrimSuffix(inches, end))
		}
		f, err1 := strconv.ParseUint(strings.TrimSpace(feet), 10, 16)
		n, err2 := strconv.ParseFloat(inches, 64)
		if err1 == nil && err2 == nil && n >= 0 && n < 12 && !math.Signbit(n) {
			return float64(f) + n/12, true
		}
	}
	return 0, false
}
