package check

import "slices"

// Book is the rules of one package, in the order in which they are written in the code. Every rule made
// through it is in the list. The zero Book is empty.
type Book struct{ rules []Rule }

// Rules returns the rules.
func (b *Book) Rules() []Rule { return slices.Clone(b.rules) }

// Error makes a rule that rejects the record.
func (b *Book) Error(code, remedy string) Rule { return b.rule(code, Error, remedy) }

// Warning makes a rule that assumes or repairs something.
func (b *Book) Warning(code, remedy string) Rule { return b.rule(code, Warning, remedy) }

// Note makes a rule that changes no figure.
func (b *Book) Note(code, remedy string) Rule { return b.rule(code, Note, remedy) }

func (b *Book) rule(code string, s Severity, remedy string) Rule {
	r := Rule{Code: code, Severity: s, Remedy: remedy}
	b.rules = append(b.rules, r)
	return r
}

// Misplaced makes the rules for positions of one kind of input that cannot be right. The kind's
// reference system is given by a flag, such as "--works-crs". The advice for a coordinate that is not a
// number and for 0, 0 differs by kind.
func (b *Book) Misplaced(kind, flag, notFinite, nullIsland string) map[Misplaced]Rule {
	return map[Misplaced]Rule{
		NotFinite:  b.Error(kind+"-not-finite", notFinite),
		OutOfRange: b.Error(kind+"-out-of-range", "give WGS 84 degrees, or name the reference system with "+flag+", as in EPSG:26911"),
		NullIsland: b.Error(kind+"-null-island", nullIsland),
	}
}

// RepairVertex is the advice for a vertex with a coordinate that is not a number.
const RepairVertex = "repair the vertex that is not a number"

// Duplicate makes the rule for exact copies of a kind of record.
func (b *Book) Duplicate(kind string) Rule { return b.Error(kind+"-duplicate", "remove the copy") }

// Repaired makes the rule for outlines that cross themselves.
func (b *Book) Repaired(kind string) Rule {
	return b.Warning(kind+"-outline-repaired", "look at the outline in a viewer; it crosses or touches itself")
}
