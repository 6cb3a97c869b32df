package settings

import "driftreach/internal/format"

// LimitSettings is the [limits] table: the most that one input file may contain.
type LimitSettings struct {
	File      int `toml:"file_mb" json:"file_mb"`
	Member    int `toml:"member_mb" json:"member_mb"`
	Members   int `toml:"members" json:"members"`
	Expansion int `toml:"expansion" json:"expansion"`
	Records   int `toml:"records" json:"records"`
	Record    int `toml:"record_mb" json:"record_mb"`
	Vertices  int `toml:"vertices" json:"vertices"`
	Columns   int `toml:"columns" json:"columns"`
	Nesting   int `toml:"nesting" json:"nesting"`
}

// mebibyte is what MB means in the table.
const mebibyte = 1 << 20

func defaultLimits() LimitSettings {
	l := format.DefaultLimits()
	return LimitSettings{
		File: int(l.Bytes / mebibyte), Member: int(l.MemberBytes / mebibyte), Members: l.Members, Expansion: l.Expansion,
		Records: l.Records, Record: l.RecordBytes / mebibyte, Vertices: l.Vertices, Columns: l.Columns, Nesting: l.Nesting,
	}
}

// Limits converts the table for the readers.
func (s LimitSettings) Limits() format.Limits {
	l := format.DefaultLimits()
	l.Bytes, l.MemberBytes, l.Members, l.Expansion = int64(s.File)*mebibyte, int64(s.Member)*mebibyte, s.Members, s.Expansion
	l.Records, l.RecordBytes, l.Vertices, l.Columns, l.Nesting = s.Records, s.Record*mebibyte, s.Vertices, s.Columns, s.Nesting
	return l
}
