package knapsack

// Piece is what one nested best set adds to the one before.
type Piece struct {
	Items       []int32 // each after the items it needs, except among items that need each other
	Value, Cost float64
}

// Pieces are the additions of nested best sets, highest value per cost first. After each, the set
// so far has the highest value of all sets of its cost.
type Pieces []Piece

// Nested returns best sets, each containing the one before (chain.go gives method and sources). The
// first piece holds the items fixed in, even when there are none. Items fixed out, and items that
// need them, are in no piece. Cost is n log n where the needs form trees.
func Nested(items []Item, opt Options) Pieces {
	p := pose(items, opt.Fixed)
	first := Piece{Value: p.value0, Cost: p.cost0}
	for i, in := range p.settled {
		if in {
			first.Items = append(first.Items, int32(i))
		}
	}
	out := Pieces{first}
	for _, one := range p.pieces(p.all()) {
		next := Piece{Value: one.value, Cost: one.cost}
		for _, n := range one.nodes {
			next.Items = append(next.Items, p.members[n]...)
		}
		out = append(out, next)
	}
	return out
}

// all lists every node.
func (g *graph) all() []int32 {
	all := make([]int32, len(g.value))
	for n := range all {
		all[n] = int32(n)
	}
	return all
}
