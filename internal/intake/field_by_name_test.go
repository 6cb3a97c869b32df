package intake

import (
	"testing"

	"driftreach/internal/column"
)

// TestFieldsOfOneName: settings and what check prints name a field and no role, so that
// fields of one name hold the same thing in every role.
func TestFieldsOfOneName(t *testing.T) {
	seen := map[string]column.Field{}
	for _, r := range Roles() {
		for _, f := range r.fields {
			other, ok := seen[f.Name]
			if ok && (f.In != other.In || f.AsWritten != other.AsWritten || f.Decides != other.Decides || (f.Words == nil) != (other.Words == nil)) {
				t.Errorf("%s of %s is %+v, elsewhere %+v", f.Name, r.Name, f, other)
			}
			seen[f.Name] = f
		}
	}
	if len(seen) < 50 {
		t.Errorf("%d fields only", len(seen))
	}
}
