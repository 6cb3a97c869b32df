package format

import "fmt"

// Limits bound what one file may ask for; passing one makes the file unusable.
type Limits struct {
	Bytes         int64 // of the whole file
	MemberBytes   int64 // of one member of an archive, unpacked, and of a file held in memory
	Members       int   // of an archive
	Expansion     int   // how many times its size an archive may unpack to
	Records       int   // in the whole file
	RecordBytes   int   // of one CSV row or one JSON text
	Vertices      int   // of one feature
	Columns       int   // in the whole file
	Nesting       int   // of JSON arrays and objects, and of XML elements
	FindingsAlike int   // warnings or notes of one kind told one by one, as check.Log.Limit
}

// DefaultLimits returns limits that no honest file meets. Our choice: ten
// times the largest job the program is measured on, and one record small enough
// that a wrong quote is reported before memory is short.
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

// Validate returns what is wrong with the limits, nil when nothing is.
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
