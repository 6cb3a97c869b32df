package shapefile

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding"

	"driftreach/internal/format"
)

// table is the .dbf of a Shapefile: dBASE III with the later additions that Shapefiles use.
type table struct {
	*format.Reading
	file    *format.Sidecar // nil when there is no .dbf
	in      *bufio.Reader
	records int
	fields  []dbfField
	record  []byte
	decoder *encoding.Decoder // nil: text is read as UTF-8, or as Windows-1252 if it is not valid UTF-8
	marked  bool              // the .cpg file says UTF-8
}

// dbfField is a column of the table.
type dbfField struct {
	kind       byte // C, N, F, D, L or another type letter
	begin, end int  // bytes of the column in the record
	column     int  // number of the column in the schema
}

// openTable opens the table beside the shapes and reads its header.
func openTable(r *format.Reading, d *format.Document) (*table, error) {
	t := &table{Reading: r}
	r.Encoding = "UTF-8"
	label, err := sidecar(r, d, ".cpg")
	if err != nil {
		return nil, err
	}
	if t.file, err = besides(r, d, ".dbf"); err != nil {
		return nil, err
	}
	if t.file == nil {
		r.ReportFile(format.RuleNoTable, "", "", "there is no .dbf beside the .shp, so its shapes have no columns")
		return t, nil
	}
	t.in = bufio.NewReader(t.file)
	var head [32]byte
	if _, err := io.ReadFull(t.in, head[:]); err != nil {
		return nil, t.broken("header", "the .dbf ends early")
	}
	t.records = int(binary.LittleEndian.Uint32(head[4:]))
	size, record := int(binary.LittleEndian.Uint16(head[8:])), int(binary.LittleEndian.Uint16(head[10:]))
	if size < 33 || record < 1 {
		return nil, t.broken("header", "the .dbf is none")
	}
	t.record = make([]byte, record)
	t.decode(string(bytes.TrimSpace(label)), head[29])
	return t, t.readFields(size - 32)
}

func (t *table) broken(place, found string) error {
	return t.Unusable(place, found, "copy the .shp and the .dbf again, together")
}

// readFields reads the descriptions of the columns.
func (t *table) readFields(size int) error {
	b := make([]byte, size)
	if _, err := io.ReadFull(t.in, b); err != nil {
		return t.broken("header", "the .dbf ends early")
	}
	at := 1 // after the deletion flag
	for ; len(b) >= 32 && b[0] != '\r'; b = b[32:] {
		name, _, _ := bytes.Cut(b[:11], []byte{0})
		length := int(b[16])
		if b[11] == 'C' { // for long texts the decimals byte holds the high byte of the length
			length += 256 * int(b[17])
		}
		if at+length > len(t.record) {
			return t.broken("header", "the columns of the .dbf are longer than its records")
		}
		base := strings.TrimSpace(string(t.plain(name, len(name) >= 10)))
		text := base
		for n := 2; text == "" || t.taken(text); n++ {
			text = fmt.Sprintf("%s~%d", base, n)
		}
		t.fields = append(t.fields, dbfField{b[11], at, at + length, t.Schema.Add(text)})
		at += length
		if len(t.fields) > t.Limits.Columns {
			return t.broken("header", "the .dbf has more columns than limits.columns allows")
		}
	}
	return nil
}

func (t *table) taken(name string) bool {
	_, taken := t.Schema.Index[name]
	return taken
}

// next reads the texts of the next record and says whether the record is marked as deleted.
func (t *table) next(record int, l *format.Layout) (deleted bool, err error) {
	if t.file == nil {
		return false, nil
	}
	if record > t.records {
		return false, t.broken(fmt.Sprintf("record %d", record), fmt.Sprintf("the .dbf has %d records, the .shp more", t.records))
	}
	if _, err := io.ReadFull(t.in, t.record); err != nil {
		return false, t.broken(fmt.Sprintf("record %d", record), "the .dbf ends early")
	}
	for _, f := range t.fields {
		text := bytes.TrimSpace(bytes.TrimRight(t.record[f.begin:f.end], "\x00"))
		switch {
		case len(text) == 0, text[0] == '*' && f.kind != 'C', f.kind == 'D' && string(text) == "00000000", f.kind == 'L' && text[0] == '?':
			text = nil // the marks of an empty cell, which differ by type
		case f.kind == 'N' || f.kind == 'F': // some programs write a decimal comma
			text = bytes.ReplaceAll(text, []byte(","), []byte("."))
		default:
			text = t.plain(text, len(text) == f.end-f.begin)
		}
		l.Put(f.column, text)
	}
	return t.record[0] == '*', nil
}

// plain returns a text of the table as UTF-8. The result is valid until the next call. A text that
// fills its column may be cut off inside a character; the bytes of that character are then dropped.
func (t *table) plain(text []byte, full bool) []byte {
	if t.decoder != nil {
		if out, err := t.decoder.Bytes(text); err == nil {
			return out
		}
	}
	if n := cutRune(text); full && n > 0 {
		// if the rest is plain ASCII, the odd bytes may as well be a Windows-1252 letter
		if whole := text[:len(text)-n]; utf8.Valid(whole) && (t.marked || len(whole) > utf8.RuneCount(whole)) {
			return whole
		}
	}
	return t.Charset.Fix(text)
}

// cutRune returns how many bytes at the end of a text belong to an incomplete UTF-8 character.
func cutRune(text []byte) int {
	for n := 1; n < utf8.UTFMax && n <= len(text); n++ {
		if b := text[len(text)-n]; utf8.RuneStart(b) {
			if b >= utf8.RuneSelf && !utf8.FullRune(text[len(text)-n:]) {
				return n
			}
			return 0
		}
	}
	return 0
}

// finish checks that shapes and table have the same number of records.
func (t *table) finish(shapes int) error {
	if t.file == nil {
		return nil
	}
	if shapes != t.records {
		return t.broken("", fmt.Sprintf("the .shp has %d records, the .dbf %d", shapes, t.records))
	}
	t.in.WriteTo(io.Discard)
	t.file.Finish(t.Reading)
	if t.Charset.Assumed {
		t.Encoding = "Windows-1252"
		t.ReportFile(format.RuleEncoding, "", "", "the table is not UTF-8 throughout; what is not was read as Windows-1252")
	}
	return nil
}

func (t *table) close() {
	if t.file != nil {
		t.file.Close()
	}
}

// IsTable says whether a file begins like a dBASE table: a known version byte, a valid date, and header
// and record lengths that agree.
func IsTable(head []byte) bool {
	return len(head) >= 32 && head[0]&7 == 3 && head[2] >= 1 && head[2] <= 12 && head[3] >= 1 && head[3] <= 31 &&
		binary.LittleEndian.Uint16(head[8:])%32 == 1 && head[12] == 0 && head[13] == 0
}
