package disk

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// exchange swaps two paths with renameat2(2), which Linux has since 3.15. File systems without it
// return EINVAL, older kernels ENOSYS, and some sandboxes and shared folders EPERM or EOPNOTSUPP, all
// without moving anything.
func exchange(one, other string) error {
	err := unix.Renameat2(unix.AT_FDCWD, one, unix.AT_FDCWD, other, unix.RENAME_EXCHANGE)
	for _, cannot := range []error{unix.EINVAL, unix.ENOSYS, unix.EPERM, unix.EOPNOTSUPP} {
		if errors.Is(err, cannot) {
			return ErrNoExchange
		}
	}
	if err != nil {
		return &os.LinkError{Op: "exchange", Old: one, New: other, Err: err}
	}
	return nil
}
