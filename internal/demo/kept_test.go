package demo

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"testing"

	"driftreach/internal/testkit"
)

// TestKeptDemo: the files of the demo are those that its pages and pictures were made from: the
// handbook names its figures, and who follows it gets the same. What they must hold is in the other
// tests. A change of a single byte is meant, with the handbook, or a mistake.
func TestKeptDemo(t *testing.T) {
	var sums bytes.Buffer
	for _, file := range made(0).Files() {
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(file.Text), file.Name)
	}
	testkit.Kept(t, "sums.txt", sums.Bytes())
}
