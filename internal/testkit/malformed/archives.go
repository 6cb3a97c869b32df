package malformed

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
)

// archives returns zip archives.
func archives() []Case {
	var all []Case
	add := func(name string, b []byte) {
		all = append(all, Case{Name: "archive, " + name, Ending: ".zip", Bytes: b})
	}
	row := []byte(header + "\na,1,2,2026-07-01\n")
	one := pack(member{"a.csv", row})
	add("without members", pack())
	add("of other files", pack(member{"a.pdf", []byte("%PDF")}, member{"b.txt~", nil}))
	add("of an archive", pack(member{"a.zip", one}))
	add("of two layers", pack(member{"a.csv", row}, member{"b.csv", row}))
	add("of twenty thousand members", pack(many(20_000)...))
	add("of blanks that unpack to 64 MB", pack(member{"a.csv", append(bytes.Clone(row), bytes.Repeat([]byte(" "), 64<<20)...)}))
	add("of one row many times over", pack(member{"a.csv", append(bytes.Clone(row), bytes.Repeat([]byte("a,1,2,2026-07-01\n"), 2<<20)...)}))
	add("of a database of zeros", pack(member{"a.gpkg", append([]byte("SQLite format 3\x00"), make([]byte, 64<<20)...)}))
	add("with a member outside", pack(member{"../../../etc/a.csv", row}))
	add("with a member without a name", pack(member{"", row}))
	add("with a table of contents cut off", one[:len(one)-10])
	add("with another checksum", replaced(one, "2026-07-01", "2026-07-02"))
	// the flags are 6 bytes into a member's header and 8 into its directory entry (APPNOTE 4.4.4)
	add("with an encrypted member", flagged(one))
	add("of shapes without a table", pack(member{"a.shp", header100()}))
	add("of a database that is empty", pack(member{"a.gpkg", nil}))
	return all
}

type member struct {
	name  string
	bytes []byte
}

// pack makes an archive. Writing to memory does not fail.
func pack(members ...member) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, m := range members {
		w, err := z.CreateHeader(&zip.FileHeader{Name: m.name, Method: zip.Deflate})
		if err != nil {
			panic(err)
		}
		io.Copy(w, bytes.NewReader(m.bytes))
	}
	if err := z.Close(); err != nil {
		panic(err)
	}
	return b.Bytes()
}

func many(n int) []member {
	all := make([]member, n)
	for i := range all {
		all[i].name = fmt.Sprintf("%d.csv", i)
	}
	return all
}

func flagged(archive []byte) []byte {
	out := bytes.Clone(archive)
	out[6] |= 1
	out[bytes.LastIndex(out, []byte("PK\x01\x02"))+8] |= 1
	return out
}

// replaced replaces a text by one of the same length. If the text is compressed, it changes the last
// byte of the first member's checksum instead.
func replaced(archive []byte, old, new string) []byte {
	out := bytes.ReplaceAll(archive, []byte(old), []byte(new))
	if bytes.Equal(out, archive) {
		out[bytes.LastIndex(out, []byte("PK\x01\x02"))+16] ^= 1
	}
	return out
}
