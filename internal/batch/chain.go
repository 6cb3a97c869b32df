package batch

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"
)

// chainLength is how many letters name a chain: 64 bits, so that no two programmes
// share one.
const chainLength = 16

// chainName names a chain of batches by what its first was made of.
func chainName(first ...string) string {
	return fmt.Sprintf("%x", sha256.Sum256([]byte(strings.Join(first, "\n"))))[:chainLength]
}

// chainOf returns the name of the chain a batch is of: that of the batch before,
// else one of its own by its quarter and the content of its files.
func (in *Observed) chainOf() string {
	if in.Previous != nil {
		return in.Previous.Chain
	}
	var parts []string
	for _, file := range in.Files {
		parts = append(parts, file.Role+" "+file.SHA256)
	}
	slices.Sort(parts)
	return chainName(append(parts, in.Quarter.String())...)
}
