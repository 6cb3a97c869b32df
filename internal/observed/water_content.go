package observed

import "driftreach/internal/intake"

// WaterContent returns, by role, the digests of the contents of the streams, barriers and water
// surfaces.
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
