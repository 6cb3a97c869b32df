package shapefile

import (
	"strings"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/htmlindex"
)

// codePages are the DOS encodings, which package htmlindex does not have.
var codePages = map[string]encoding.Encoding{
	"437": charmap.CodePage437, "850": charmap.CodePage850, "852": charmap.CodePage852, "855": charmap.CodePage855, "858": charmap.CodePage858,
	"860": charmap.CodePage860, "862": charmap.CodePage862, "863": charmap.CodePage863, "865": charmap.CodePage865, "866": charmap.CodePage866,
}

// webNames are the names of the other code pages in package htmlindex.
var webNames = map[string]string{
	"874": "windows-874", "932": "shift_jis", "936": "gbk", "949": "euc-kr", "950": "big5", "10000": "macintosh", "54936": "gb18030",
	"88591": "iso-8859-1", "28591": "iso-8859-1",
}

// languages maps the language driver byte of the table's header to a code page [P] (dBASE language
// drivers, as ESRI uses them). The bytes for Windows in western Europe and the Americas (03, 57, 58,
// 59) are left out: many programs write UTF-8 and leave that byte unchanged, and text that is not UTF-8
// is read as Windows-1252 anyway.
var languages = map[byte]string{
	0x01: "437", 0x02: "850", 0x04: "10000", 0x08: "865", 0x09: "437", 0x0a: "850", 0x0b: "437", 0x0d: "437", 0x0e: "850", 0x0f: "437",
	0x10: "850", 0x11: "437", 0x12: "850", 0x13: "932", 0x14: "850", 0x15: "437", 0x16: "850", 0x17: "865", 0x18: "437", 0x19: "437",
	0x1a: "850", 0x1b: "437", 0x1c: "863", 0x1d: "850", 0x1f: "852", 0x22: "852", 0x23: "852", 0x24: "860", 0x25: "850", 0x26: "866",
	0x37: "850", 0x40: "852", 0x4d: "936", 0x4e: "949", 0x4f: "950", 0x50: "874", 0x64: "852", 0x65: "866", 0x66: "865", 0x6c: "863",
	0x78: "950", 0x79: "949", 0x7a: "936", 0x7b: "932", 0x7c: "874", 0x87: "852",
	0xc8: "1250", 0xc9: "1251", 0xca: "1254", 0xcb: "1253", 0xcc: "1257",
}

// decode chooses the encoding: the one the .cpg names, else the one of the header's language byte.
func (t *table) decode(label string, language byte) {
	label = strings.ToLower(label)
	if label == "utf-8" || label == "utf8" || label == "65001" {
		t.marked = true
		return
	}
	e, name := encodingNamed(label)
	if e == nil {
		e, name = encodingNamed(languages[language])
	}
	if e != nil {
		t.decoder, t.Encoding = e.NewDecoder(), name
	}
}

// encodingNamed finds the encoding for a label in a .cpg file: a web encoding name, or a code page
// number with or without words before it. It returns nil if there is none.
func encodingNamed(label string) (encoding.Encoding, string) {
	number := label
	for _, word := range []string{"ansi", "oem", "ms", "ibm", "windows", "cp", "x-cp", " ", "-", "_"} {
		number = strings.TrimPrefix(number, word)
	}
	if e, ok := codePages[number]; ok {
		return e, "CP" + number
	}
	iso := strings.Trim(strings.TrimPrefix(strings.TrimLeft(strings.TrimPrefix(label, "iso"), " -_"), "8859"), " -_")
	for _, name := range []string{label, webNames[number], "windows-" + number, "iso-8859-" + iso, strings.ReplaceAll(label, "_", "-")} {
		if e, err := htmlindex.Get(name); err == nil {
			return e, strings.ToUpper(name)
		}
	}
	return nil, ""
}
