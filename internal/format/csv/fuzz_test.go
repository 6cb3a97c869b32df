package csv_test

import (
	"testing"

	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

// FuzzCSV reads any text of rows.
func FuzzCSV(f *testing.F) {
	var seeds [][]byte
	for _, seed := range []string{"a,1,2,2026-07-01\n", "\"a\n\"\"\",1,2,\r\n\r\n", "a;1;2;\rb;3;4;\r", "\"a", ",,,\n", "\xff,1,2,\n", "a,1e5,-0,2026/07/13\n,", "id,WKT\na,POINT(1 2)\n"} {
		seeds = append(seeds, []byte(seed))
	}
	layers.FuzzText(f, "CSV", append(seeds, testkit.Stored(f, "handed-in/*.csv", "handed-in/*.txt")...)...)
}
