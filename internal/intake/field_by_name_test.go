package intake

import (
	"testing"

	"driftreach/internal/column"
)

// TestFieldsOfOneName: settings and the output of check identify a field by its name without the
// role, so fields of the same name must mean the same in every role.
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
