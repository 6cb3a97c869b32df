package observed

import "driftreach/internal/intake"

// WaterContent returns the digests of what the streams, barriers and water surfaces
// say, by role.
func (in *Quarter) WaterContent() map[string]string {
	content := map[string]string{}
	for _, role := range intake.Roles() {
		if role.Digest == nil {
			continue
		}
		if sum := role.Digest(in); sum != "" {
			content[role.Name] = sum
		}
	}
	return content
}
