package stretch

// Find returns every stretch of the streams in the order for the next survey: first the list, then
// the rest. The result does not depend on the order of records and works. Cost is linear in the
// network's length, with a search of the ground and of the earlier stretches for each cell.
func Find(k Known, s Settings) []Stretch {
	cuts, all := cutAll(k.Net, s)
	k.measure(cuts, all)
	k.nearStands(all, s)
	k.markPlaces(cuts, all, s)
	sample(all, s)
	return inOrder(all, s)
}
