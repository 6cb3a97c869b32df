package check

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
)

// note is a record of the tests, with one text.
type note struct {
	id, file string
	row      int
	says     string
}

var (
	noteBook  Book
	noteNoID  = noteBook.Note("note-id-missing", "")
	noteSame  = noteBook.Warning("note-id-duplicate", "")
	noteTwice = noteBook.Duplicate("note")
	noteWrong = noteBook.Misplaced("note", "--notes-crs", RepairVertex, "enter the place")
)

func noteKind() Kind[note] {
	return Kind[note]{
		Noun: "note", Duplicate: noteTwice, Misplaced: noteWrong, Corner: "place",
		Origin:  func(n *note) (string, int) { return n.file, n.row },
		Compare: func(a, b *note) int { return strings.Compare(a.says, b.says) },
		Names:   &Names[note]{Field: "note_id", ID: func(n *note) *string { return &n.id }, NoID: noteNoID, SameID: noteSame},
	}
}

// told writes records and findings as "id says" and "record code".
func told(records []note, findings []Finding) (kept, found string) {
	var a, b []string
	for _, n := range records {
		a = append(a, n.id+" "+n.says)
	}
	for _, f := range findings {
		b = append(b, f.Record+" "+f.Rule.Code+" "+f.Message)
	}
	return strings.Join(a, "; "), strings.Join(b, "; ")
}

// TestUnify: by hand, whatever the order of the records.
func TestUnify(t *testing.T) {
	perFile, settled, kept, nameless := noteKind(), noteKind(), noteKind(), noteKind()
	names := *perFile.Names
	names.PerFile = true
	perFile.Names, nameless.Names, kept.Names, kept.KeepCopies = &names, nil, nil, true
	longest := func(all []note, alike []int) []int { // the longest text alone
		slices.SortStableFunc(alike, func(a, b int) int { return len(all[b].says) - len(all[a].says) })
		return alike[:1]
	}
	for _, c := range []struct {
		name        string
		kind        Kind[note]
		settle      func([]note, []int) []int
		in          []note
		want, found string
	}{
		{"a copy goes, another of the id is renamed past one that is taken", noteKind(), nil,
			[]note{{"b", "f", 1, "x"}, {"b", "f", 2, "x"}, {"b", "f", 3, "y"}, {"b", "f", 4, "z"}, {"b~2", "f", 5, "x"}, {"a", "f", 6, "x"}},
			"a x; b x; b~2 x; b~3 y; b~4 z",
			"b note-duplicate the note is there twice, the same in every field; the copy was rejected; " +
				"b note-id-duplicate another note has the same id; this one is now b~3; b note-id-duplicate another note has the same id; this one is now b~4"},
		{"two files of one name without ids: neither is the other's copy, and nobody is told", noteKind(), nil,
			[]note{{"", "p/f", 1, "x"}, {"", "q/f", 1, "x"}, {"a", "q/f", 2, "x"}},
			"a x; f#1 x; f#1~2 x",
			"row 1 note-id-missing the note has no id; f#1 was made from file and row; row 1 note-id-missing the note has no id; f#1 was made from file and row"},
		{"an id of its own that looks made is told when it changes", noteKind(), nil,
			[]note{{"", "f", 1, "a"}, {"f#1", "f", 2, "b"}, {"c", "f", 3, "b"}},
			"c b; f#1 a; f#1~2 b",
			"f#1 note-id-duplicate another note has the same id; this one is now f#1~2; row 1 note-id-missing the note has no id; f#1 was made from file and row"},
		{"a file without any id is told of once", perFile, nil,
			[]note{{"", "f", 1, "a"}, {"", "f", 2, "b"}, {"", "g", 1, "c"}, {"k", "g", 2, "d"}},
			"f#1 a; f#2 b; g#1 c; k d",
			" note-id-missing the file has no ids; they were made from file and row; row 1 note-id-missing the note has no id; g#1 was made from file and row"},
		{"settled", settled, longest,
			[]note{{"a", "f", 1, "x"}, {"a", "f", 2, "xyz"}, {"a", "f", 3, "xy"}, {"b", "f", 4, "x"}}, "a xyz; b x", ""},
		{"without ids", nameless, nil,
			[]note{{"", "f", 1, "y"}, {"", "f", 2, "x"}, {"", "f", 3, "x"}}, " x;  y",
			"row 3 note-duplicate the note is there twice, the same in every field; the copy was rejected"},
		{"copies stay", kept, nil,
			[]note{{"", "f", 1, "y"}, {"", "f", 2, "x"}, {"", "f", 3, "x"}}, " x;  x;  y",
			"row 3 note-duplicate the note is there twice, the same in every field; the copy was rejected"},
	} {
		for seed := range uint64(20) {
			in := slices.Clone(c.in)
			rand.New(rand.NewPCG(seed, 1)).Shuffle(len(in), func(i, k int) { in[i], in[k] = in[k], in[i] })
			checker := Checker[note]{Kind: c.kind, Settle: c.settle}
			out := checker.Unify(checker.Accept(append(in, note{"no", "g", 9, "no"}), func(n *note) bool { return n.says != "no" }))
			kept, found := told(out, checker.Findings())
			if kept != c.want || found != c.found {
				t.Errorf("%s: %s\n%s\nwant %s\n%s", c.name, kept, found, c.want, c.found)
				break
			}
		}
	}
}

// TestMeet: in blocks, a file whose first records have no id is not told of as one without ids, and one
// without any is told of once.
func TestMeet(t *testing.T) {
	kind := noteKind()
	names := *kind.Names
	names.PerFile = true
	kind.Names = &names
	blocks := [][]note{{{"", "f", 1, "a"}, {"", "g", 1, "c"}}, {{"", "f", 2, "b"}, {"k", "g", 2, "d"}}, {{"", "g", 3, "e"}}}
	met, checker := Checker[note]{Kind: kind}, Checker[note]{Kind: kind}
	for _, b := range blocks {
		met.Meet(b)
	}
	checker.MeetAs(&met)
	var all []note
	for _, b := range blocks {
		all = append(all, checker.Accept(slices.Clone(b), func(*note) bool { return true })...)
	}
	kept, found := told(all, checker.Findings())
	if want := "f#1 a; g#1 c; f#2 b; k d; g#3 e"; kept != want {
		t.Errorf("%s, want %s", kept, want)
	}
	if want := " note-id-missing the file has no ids; they were made from file and row; row 1 note-id-missing the note has no id; g#1 was made from file and row; " +
		"row 3 note-id-missing the note has no id; g#3 was made from file and row"; found != want {
		t.Errorf("%s, want %s", found, want)
	}
}

// TestPlaced: which position of a record is reported, and how.
func TestPlaced(t *testing.T) {
	c := Checker[note]{Kind: noteKind()}
	if !Placed(&c, &note{}, []orb.LineString{{{1, 2}, {3, 4}}}) || len(c.Findings()) != 0 {
		t.Error("a place that can be one")
	}
	for p, want := range map[orb.Point]string{
		{0, 0}:           "[note-null-island] 0 0 a place is 0, 0; the note was rejected",
		{500, 4}:         "[note-out-of-range] 500 4 a place is outside the range of degrees; the note was rejected",
		{math.Inf(1), 2}: "[note-not-finite] +Inf 2 a coordinate is not a finite number; the note was rejected",
		{1, math.NaN()}:  "[note-not-finite] 1 NaN a coordinate is not a finite number; the note was rejected",
		{1, -1e308}:      "[note-out-of-range] 1 -1e+308 a place is outside the range of degrees; the note was rejected",
	} {
		c := Checker[note]{Kind: noteKind()}
		if Placed(&c, &note{file: "f", row: 1}, []orb.LineString{{{1, 2}, p}}) {
			t.Error(p)
			continue
		}
		if f := c.Findings()[0]; fmt.Sprintf("[%s] %s %s", f.Rule.Code, f.Value, f.Message) != want || f.Field != "geometry" {
			t.Errorf("%v: %+v", p, f)
		}
	}
	if Shown(orb.Point{}) != nil || *Shown(orb.Point{190, 5}) != (orb.Point{-170, 5}) || ShownFirst([]orb.Ring{{}}) != nil {
		t.Error("where a finding is shown")
	}
}

// TestBook: the rules made by a book are in its list, in order.
func TestBook(t *testing.T) {
	var codes []string
	for _, r := range noteBook.Rules() {
		codes = append(codes, r.Code+" "+r.Severity.String())
	}
	slices.Sort(codes) // those of positions are made as one
	if got := strings.Join(codes, ", "); got != "note-duplicate error, note-id-duplicate warning, note-id-missing note, note-not-finite error, note-null-island error, note-out-of-range error" {
		t.Error(got)
	}
	if r := noteWrong[OutOfRange]; r.Remedy != "give WGS 84 degrees, or name the reference system with --notes-crs, as in EPSG:26911" {
		t.Error(r.Remedy)
	}
}
