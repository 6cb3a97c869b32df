package valued

import (
	"cmp"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/check"
)

var book check.Book

// The rules of this package. A rejected place has an Error.
var (
	ruleEmpty     = book.Error("value-empty", "draw the place, or remove the row")
	misplaced     = book.Misplaced("value", "--values-crs", check.RepairVertex, "enter the true place")
	ruleDuplicate = book.Duplicate("value")
	ruleSameID    = book.Warning("value-id-duplicate", "give each place its own value_id")
	ruleNoID      = book.Note("value-id-missing", "fill in value_id, so that a finding can name the place")
	ruleWeight    = book.Error("value-weight-negative", "give a weight of 0 or more: how much one kilometre of the place counts compared with the others")
	ruleNoWeight  = book.Note("value-weight-missing", "enter weight if some places count more than others")
	ruleAway      = book.Warning("value-away-from-water", "draw the place so that it touches the water; until then no fragments count for it")
)

// Rules returns every rule of this package.
func Rules() []check.Rule { return book.Rules() }

// Away reports that a place is not at the water.
func (p *Place) Away() check.Finding {
	return kind.Finding(p, ruleAway, "geometry", "", "no stream comes within the setback of the place, so that nothing counts for it")
}

// kind says how places are compared and reported.
var kind = check.Kind[Place]{
	Noun: "place", Corner: "position", Misplaced: misplaced, Duplicate: ruleDuplicate,
	Origin: func(p *Place) (string, int) { return p.File, p.Row },
	At:     func(p *Place) *orb.Point { return check.ShownFirst(p.Paths()) },
	Compare: func(a, b *Place) int {
		return cmp.Or(strings.Compare(a.Name, b.Name), cmp.Compare(a.Weight, b.Weight), geo.CompareLines(a.Paths(), b.Paths()))
	},
	Names: &check.Names[Place]{Field: "value_id", ID: func(p *Place) *string { return &p.ID }, NoID: ruleNoID, SameID: ruleSameID},
}
