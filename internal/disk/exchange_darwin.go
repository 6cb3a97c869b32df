package disk

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// exchange swaps two paths with renamex_np(2), which macOS has since 10.12 on APFS and HFS+. Other
// volumes return ENOTSUP or EINVAL without moving anything.
func exchange(one, other string) error {
	err := unix.RenamexNp(one, other, unix.RENAME_SWAP)
	if errors.Is(err, unix.ENOTSUP) || errors.Is(err, unix.EINVAL) || errors.Is(err, unix.ENOSYS) {
		return ErrNoExchange
	}
	if err != nil {
		return &os.LinkError{Op: "exchange", Old: one, New: other, Err: err}
	}
	return nil
}
