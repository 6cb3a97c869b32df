package restated

import (
	"fmt"
	"testing"

	"driftreach/internal/correction"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
)

// TestRulingsOfTheFirst: the first stand and the first find of a list are ruled on as later ones are; by
// hand. Stands A, B and C lie at 0, 200 and 400 m; one new stand of three finds lies on all of them. Two
// that are apart part it: finds nearer to the second go, barred from the first, the rest from the second.
func TestRulingsOfTheFirst(t *testing.T) {
	_, p, rules := quarterBefore(t)
	p.Records = patches("a", on(5, 1), 0.0, "b", on(5, 1), 0.2, "c", on(5, 1), 0.4)
	p.Known = nil
	for i, id := range []string{"A", "B", "C"} {
		k := lineage.Known{Stand: stand.Build(p.Records, []int32{int32(i)}, rules.Stands), Quarter: p.Quarter}
		k.ID = id
		p.Known = append(p.Known, k)
	}
	records := patches("f", on(7, 5), 0.001, "g", on(7, 5), 0.201, "h", on(7, 5), 0.401)
	now := lineage.Now{Quarter: quarter(2026, 3), Records: records, Stands: []stand.Stand{stand.Build(records, []int32{0, 1, 2}, rules.Stands)}}
	for _, c := range []struct {
		rulings correction.Rulings
		want    string
	}{
		{correction.Rulings{Apart: [][2]string{{"A", "B"}}}, "[0] [1 2] barred [{1 0} {0 1}] same []"},
		{correction.Rulings{Apart: [][2]string{{"B", "A"}}}, "[0] [1 2] barred [{1 0} {0 1}] same []"},
		{correction.Rulings{Apart: [][2]string{{"B", "C"}}}, "[0 1] [2] barred [{2 0} {1 1}] same []"},
		{correction.Rulings{Apart: [][2]string{{"A", "A"}, {"A", "X"}, {"X", "A"}, {"X", "Y"}}}, "[0 1 2] barred [] same []"},
		{correction.Rulings{Finds: [][2]string{{"f", "A"}}}, "[0] [1 2] barred [{0 0}] same []"},
		{correction.Rulings{Finds: [][2]string{{"f", "B"}}}, "[0] [1 2] barred [{1 0}] same []"},
		{correction.Rulings{Finds: [][2]string{{"h", "A"}}}, "[0 1] [2] barred [{0 1}] same []"},
		{correction.Rulings{Finds: [][2]string{{"x", "A"}, {"f", "X"}}}, "[0 1 2] barred [] same []"},
		{correction.Rulings{Same: [][2]string{{"f", "A"}}}, "[0 1 2] barred [] same [{0 0}]"},
		{correction.Rulings{Same: [][2]string{{"h", "C"}, {"x", "A"}, {"f", "X"}}}, "[0 1 2] barred [] same [{2 0}]"},
	} {
		got := Rule(c.rulings, lineage.Before{Known: p.Known, Records: p.Records}, now, rules)
		text := ""
		for _, s := range got.Stands {
			text += fmt.Sprint(s.Members, " ")
		}
		if text += fmt.Sprint("barred ", got.Barred, " same ", got.Same); text != c.want {
			t.Errorf("%+v: %s, want %s", c.rulings, text, c.want)
		}
	}
}
