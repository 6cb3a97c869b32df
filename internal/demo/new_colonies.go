package demo

// arrive adds small colonies grown from fragments of live ones, 150 m to 1.3 km downstream of them,
// most of them in the later quarters.
func (s *settlement) arrive() {
	for i, p := range s.all {
		if p.story != leftAlone || len(p.patches) < 6 || i%4 == 0 {
			continue
		}
		sh := shoreOf(p.walk)
		down := p.down + 16*float64(len(p.patches)) + 150 + 1150*s.r.Float64()
		size := []int{1, 1, 3, 4}[s.r.IntN(4)]
		child, ok := s.riverside(sh, down, size, nil)
		if !ok || child.down < p.down {
			continue
		}
		for k := range child.patches {
			child.patches[k].area *= 0.15
			child.patches[k].height = 2 + s.r.Float64()
			child.patches[k].measure = byDiameter
		}
		s.add(child, arrivedIn(1+s.r.IntN(quarters-1)))
	}
}
