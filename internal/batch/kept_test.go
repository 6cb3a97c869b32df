package batch_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"driftreach/internal/batch"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/testkit/quarter"
	"driftreach/internal/verify"
)

// TestKeptQuarter: the tables of the second of two quarters with every kind of input. Its sums were held
// against the tables and layers of the folder by the checks of package verify, which the test runs, and
// its acres, shares, costs and days against the patches, areas and rules above by hand, 2026-11-28.
func TestKeptQuarter(t *testing.T) {
	dir, run, second, s := quarter.DeliverEverything(t)
	if r, err := verify.Folder(t.Context(), os.DirFS(dir), nil); err != nil || len(r.Problems) > 0 {
		t.Errorf("%v: %v", r.Problems, err)
	}
	keepTables(t, dir, "")
	if len(run.Stands) == 0 {
		t.Error("no stands")
	}
	public := filepath.Join(t.TempDir(), "public")
	err := folder.Make(context.Background(), folder.Out{Dir: public}, func(f *folder.Folder) error {
		return batch.Delivery{Version: "1.0", Settings: s, Inputs: second.Files, Water: second.WaterContent()}.DeliverPublic(f, run, host.Host{})
	})
	if err != nil {
		t.Fatal(err)
	}
	if r, err := verify.Folder(t.Context(), os.DirFS(public), nil); err != nil || len(r.Problems) > 0 || r.Edition != folder.Public {
		t.Errorf("public: %v: %v", r.Problems, err)
	}
}
