package settings

import (
	"errors"
	"strings"
	"testing"
	"unicode/utf16"
)

// The same settings as editors and shells of Windows save them; the bytes by hand from the Unicode
// standard, section 23.8 (byte-order mark).
func TestSettingsInOtherEncodings(t *testing.T) {
	const text = "[columns.points]\r\nmanagement_status = \"Situação\"\r\n[stands]\r\njoin_distance_m = 25\r\n"
	wide := func(mark string, low, high int) string {
		out := []byte(mark)
		for _, u := range utf16.Encode([]rune(text)) {
			pair := [2]byte{}
			pair[low], pair[high] = byte(u), byte(u>>8)
			out = append(out, pair[:]...)
		}
		return string(out)
	}
	for name, given := range map[string]string{"plain": text, "with a mark": "\xef\xbb\xbf" + text, "UTF-16LE": wide("\xff\xfe", 0, 1), "UTF-16BE": wide("\xfe\xff", 1, 0)} {
		s, err := Read(strings.NewReader(given), "mine.toml", Default())
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if s.Stands.JoinDistance != 25 || len(s.Columns["points"]["management_status"]) != 1 || s.Columns["points"]["management_status"][0] != "Situação" {
			t.Errorf("%s: %v, %v", name, s.Stands.JoinDistance, s.Columns["points"])
		}
	}
	_, err := Read(strings.NewReader(strings.NewReplacer("çã", "\xe7\xe3").Replace(text)), "mine.toml", Default())
	var bad *Error
	if !errors.As(err, &bad) || bad.Problem != "line 2 holds letters that are not UTF-8" || bad.Remedy != "save the file as UTF-8" {
		t.Errorf("Windows-1252: %v", err)
	}
}
