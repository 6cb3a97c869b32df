package earlier

import (
	"crypto/sha256"
	"fmt"
	"strings"
)

// chainLength is the length of a chain's name in letters: 64 bits, so that no two programmes share one.
const chainLength = 16

// ChainName makes the name of a chain from the content of its first batch.
func ChainName(first ...string) string {
	return fmt.Sprintf("%x", sha256.Sum256([]byte(strings.Join(first, "\n"))))[:chainLength]
}
