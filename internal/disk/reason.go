package disk

import (
	"io/fs"
	"os"
)

// Reason returns what an error says, without the operation and the path of the
// system's own: they are often temporary ones and would only puzzle. Of several
// errors it is the first's.
func Reason(err error) string {
	switch own := err.(type) {
	case *fs.PathError:
		return own.Err.Error()
	case *os.LinkError:
		return own.Err.Error()
	case *NoFileError:
		return own.What()
	case interface{ Unwrap() []error }:
		return Reason(own.Unwrap()[0])
	}
	return err.Error()
}
