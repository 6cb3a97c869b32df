package settings

import "strings"

// Nearest returns the known word closest to word by edit distance (Levenshtein 1966), ignoring case; of
// equally close ones, the first. It returns blank if none is close enough for a typing mistake. The
// cost is len(word) times the total length of known.
func Nearest(word string, known []string) string {
	// Our choice: a third of the letters, and at least two, may differ.
	limit := max(2, len(word)/3)
	best := ""
	for _, k := range known {
		if d := editDistance(strings.ToLower(word), strings.ToLower(k)); d < limit+1 {
			best, limit = k, d-1
		}
	}
	if best == "" {
		return nearestByLastPart(word, known)
	}
	return best
}

// nearestByLastPart finds the intended key if only its table is wrong or missing: "setback_m" for
// "aquatic.setback_m".
func nearestByLastPart(word string, known []string) string {
	last := word[strings.LastIndexByte(word, '.')+1:]
	for _, k := range known {
		if strings.EqualFold(k[strings.LastIndexByte(k, '.')+1:], last) {
			return k
		}
	}
	return ""
}

// editDistance counts the insertions, deletions and substitutions between two
// words, by bytes.
func editDistance(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			cost := diagonal
			if a[i] != b[j] {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, diagonal+1)
		}
	}
	return row[len(b)]
}
