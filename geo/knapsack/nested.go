package knapsack

// Piece is what one nested best set has beyond the one before.
type Piece struct {
	Items       []int32 // each after those it needs, but for items that need each other
	Value, Cost float64
}

// Pieces are what nested best sets add, from the most value for the cost down.
// After each, the set so far is worth most of all sets of its cost.
type Pieces []Piece

// Nested returns the best sets one within the other (see chain.go for method and
// sources): what is fixed in is the first piece, there though it be of nothing;
// what is fixed out, or needs such, is in none. Cost is n log n where what needs
// others makes trees.
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
