package earlier

import (
	"slices"

	"driftreach/internal/intake"
	"driftreach/internal/mapfile"
)

// WaterSums identifies the water inputs of a batch, to find out whether two batches computed their
// reach from the same ones.
type WaterSums struct {
	Content map[string]string   // by role, the digest of the contents of streams, barriers and water surfaces; nil in batches from before digests were recorded
	Files   map[string][]string // by role, the hashes of the files, in their order
}

// SumsByRole returns the hashes of the files of each role, in their order.
func SumsByRole(files []mapfile.File) map[string][]string {
	sums := map[string][]string{}
	for _, file := range files {
		sums[file.Role] = append(sums[file.Role], file.SHA256)
	}
	return sums
}

// OtherWater returns which water inputs differ between two batches: a role, or "files of" a role if one
// of the batches is from before digests were recorded, so that only files can be compared.
func OtherWater(then, now WaterSums) []string {
	var other []string
	for _, r := range intake.Roles() {
		role := r.Name
		switch {
		case r.Digest == nil: // not an input of the reach
		case then.Content == nil || now.Content == nil:
			if !slices.Equal(then.Files[role], now.Files[role]) {
				other = append(other, byFiles+role)
			}
		case then.Content[role] != now.Content[role]:
			other = append(other, role)
		}
	}
	return other
}

// byFiles is the prefix for a difference found from file hashes alone.
const byFiles = "files of "

// OnlyByFiles returns a remark if differences were found from file hashes alone; otherwise blank.
func OnlyByFiles(then, now WaterSums) string {
	if then.Content != nil && now.Content != nil {
		return ""
	}
	return "; a batch of an earlier version kept nothing but the hashes of its files, so that the same water in another file counts as other water"
}
