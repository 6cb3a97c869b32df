package batch

import (
	"context"
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"driftreach/internal/disk"
	"driftreach/internal/disk/faulty"
	"driftreach/internal/earlier"
	"driftreach/internal/host"
	"driftreach/internal/survey"
)

// Whichever operation of the disk fails while a batch is continued, the message
// names the folder as the user did and no path of the machine.
func TestFaultsOfAnEarlierBatchNameItAsTheUserDid(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "earlier")
	first := survey.Quarter{Year: 2026, Number: 1}
	link{in: plainQuarter(first), dir: dir}.deliver(t, "", 1)
	for n := 0; ; n++ {
		d := faulty.New(disk.System(), faulty.Plan{At: n})
		_, err := GoOn(context.Background(), earlier.Folder{Name: "earlier", Path: dir, Version: "test"}, plainQuarter(first.Next()), chainSettings(), host.Host{Workers: 1, Disk: d})
		if d.Failed() == "" {
			if n < 10 {
				t.Errorf("only %d operations", n)
			}
			return
		}
		var refused *earlier.Error
		if err == nil && strings.HasPrefix(d.Failed(), "close ") {
			continue // it was read all the same
		}
		if !errors.As(err, &refused) || strings.Contains(err.Error(), dir) {
			t.Errorf("%s: %v", d.Failed(), err)
		}
	}
}
