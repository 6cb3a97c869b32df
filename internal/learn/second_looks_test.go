package learn

import (
	"strings"
	"testing"
)

const secondHead = "decimalLongitude,decimalLatitude,first_date,second_date,first_found,second_found,size_m2\n"

func TestReadSecondLooks(t *testing.T) {
	got, err := ReadSecondLooks(strings.NewReader("\ufeff" + secondHead + "-128.1,-38.5,2026-07-14,2026-07-28,yes,no,3.5\n-128.1,-38.5,2026-07-14,2026-07-28,1,TRUE,\n"))
	if err != nil || len(got) != 2 || got[0].Found != [2]bool{true, false} || got[0].Size != 3.5 || got[1].Size == got[1].Size || got[1].Row != 3 {
		t.Errorf("%v: %v", got, err)
	}
	for text, says := range map[string]string{
		"": "header", "a,b\n": "there is no column decimalLongitude",
		secondHead + "east,-38.5,2026-07-14,2026-07-28,yes,no,\n":   `line 2: decimalLongitude: "east" is not a number from -180 to 180`,
		secondHead + "1,-38.5,14.7.2026,2026-07-28,yes,no,\n":       `first_date: "14.7.2026" is not a day as in 2026-07-14`,
		secondHead + "1,-38.5,2026-07-14,2026-07-28,maybe,no,\n":    `first_found: "maybe" is neither yes nor no`,
		secondHead + "1,-38.5,2026-07-14,2026-07-28,no,no,\n":       "neither look found anything",
		secondHead + "1,-38.5,2026-07-14,2026-07-28,yes,no,-3\n":    "size_m2",
		secondHead + "1,-38.5,2026-07-14,2026-07-28,yes,no\n":       "wrong number of fields",
		secondHead + "NaN,-38.5,2026-07-14,2026-07-28,yes,no,1\n":   "decimalLongitude",
		secondHead + "1,-38.5,2026-07-14,2026-07-28,yes,no,1e999\n": "size_m2",
	} {
		if _, err := ReadSecondLooks(strings.NewReader(text)); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q", text, err, says)
		}
	}
}
