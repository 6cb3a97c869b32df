package intake

import (
	"os"
	"syscall"
	"unsafe"

	"driftreach/internal/survey"
)

// inLargePages asks the system to use 2 MB pages for the free capacity of records. With many millions
// of records, the first use of each 4 KB page takes longer than all the reading. Nothing is lost if the
// system ignores the hint.
func inLargePages(records []survey.Record) {
	free := records[len(records):cap(records)]
	if len(free) == 0 {
		return
	}
	room := unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(free))), len(free)*int(unsafe.Sizeof(free[0])))
	page := os.Getpagesize()
	if skip := page - int(uintptr(unsafe.Pointer(&room[0]))%uintptr(page)); skip < len(room) {
		_ = syscall.Madvise(room[skip:], syscall.MADV_HUGEPAGE)
	}
}
