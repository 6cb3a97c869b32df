package disk

import (
	"io/fs"
	"os"
)

// Reason returns an error's text without the operation and path that the system adds: the path is often
// a temporary one that would only confuse. For joined errors it is the first one's text.
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
