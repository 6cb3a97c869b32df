package earlier

import (
	"slices"

	"driftreach/internal/intake"
	"driftreach/internal/mapfile"
)

// WaterSums is what the water of a batch is known by, for telling whether the reach of
// two batches was made with the same.
type WaterSums struct {
	Content map[string]string   // by role, the digest of what streams, barriers and water surfaces say; nil in batches of before it was kept
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

// OtherWater returns what of the water is not the same in two batches: a role, or "files
// of" it where one of them is of before contents were kept and the files alone can be
// held against each other.
func OtherWater(then, now WaterSums) []string {
	var other []string
	for _, r := range intake.Roles() {
		role := r.Name
		switch {
		case r.Digest == nil: // reach is made without it
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

// byFiles begins what was told by the hashes of files alone.
const byFiles = "files of "

// OnlyByFiles says of what OtherWater returns how sure it is, blank for sure.
func OnlyByFiles(then, now WaterSums) string {
	if then.Content != nil && now.Content != nil {
		return ""
	}
	return "; a batch of an earlier version kept nothing but the hashes of its files, so that the same water in another file counts as other water"
}
