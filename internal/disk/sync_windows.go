package disk

import (
	"errors"
	"time"

	"golang.org/x/sys/windows"
)

// syncDir does nothing: Windows cannot sync a folder, and NTFS journals its entries.
func syncDir(string) error { return nil }

// Our choice, as common practice on Windows: virus scanners and indexers open a new file for a moment,
// during which it can be neither moved nor removed.
const (
	tries = 8
	pause = 20 * time.Millisecond // doubled after each try: 2.5 s in all
)

// patiently repeats do for a while if another program has the file open.
func patiently(do func() error) error {
	wait := pause
	for range tries - 1 {
		err := do()
		if !errors.Is(err, windows.ERROR_ACCESS_DENIED) && !errors.Is(err, windows.ERROR_SHARING_VIOLATION) {
			return err
		}
		time.Sleep(wait)
		wait *= 2
	}
	return do()
}
