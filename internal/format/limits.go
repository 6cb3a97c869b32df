package format

import "fmt"

// Limits are the most that one file may contain. A file that exceeds one is unusable.
type Limits struct {
	Bytes         int64 // of the whole file
	MemberBytes   int64 // of one unpacked member of an archive, or of a file held in memory
	Members       int   // of an archive
	Expansion     int   // an archive may unpack to this many times its size
	Records       int   // in the whole file
	RecordBytes   int   // of one CSV row or one JSON text
	Vertices      int   // of one feature
	Columns       int   // in the whole file
	Nesting       int   // of JSON arrays and objects, and of XML elements
	FindingsAlike int   // warnings or notes of one kind that are listed one by one, as check.Log.Limit
}

// DefaultLimits returns limits that real files do not reach. Our choice: ten times the largest job the
// program is measured on. The limit for one record is small, so that an unclosed quote is reported
// before memory runs short.
func DefaultLimits() Limits {
	return Limits{
		Bytes:         64 << 30,
		MemberBytes:   4 << 30,
		Members:       10_000,
		Expansion:     200,
		Records:       50_000_000,
		RecordBytes:   16 << 20,
		Vertices:      10_000_000,
		Columns:       2_000,
		Nesting:       100,
		FindingsAlike: 1000,
	}
}

// Validate returns an error if the limits are not usable, else nil.
func (l Limits) Validate() error {
	for _, v := range []struct {
		name  string
		value int64
	}{
		{"bytes", l.Bytes}, {"member bytes", l.MemberBytes}, {"members", int64(l.Members)}, {"expansion", int64(l.Expansion)},
		{"records", int64(l.Records)}, {"record bytes", int64(l.RecordBytes)},
		{"vertices", int64(l.Vertices)}, {"columns", int64(l.Columns)}, {"nesting", int64(l.Nesting)},
	} {
		if v.value <= 0 {
			return fmt.Errorf("limit of %s is %d, not above 0", v.name, v.value)
		}
	}
	return nil
}
