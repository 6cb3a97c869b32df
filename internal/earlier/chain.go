package earlier

import (
	"crypto/sha256"
	"fmt"
	"strings"
)

// chainLength is how many letters name a chain: 64 bits, so that no two programmes
// share one.
const chainLength = 16

// ChainName names a chain of batches by what its first was made of.
func ChainName(first ...string) string {
	return fmt.Sprintf("%x", sha256.Sum256([]byte(strings.Join(first, "\n"))))[:chainLength]
}
