package stream

// checkNodes leaves out node names that are the same at both ends of a line that
// begins and ends apart. Such a name fills in for none, as 0 or -9998 do in
// extracts with lines outside their network; followed, it would join lines that
// lie far apart and cut each off as a ring.
func (c *checker) checkNodes(l *Centerline) {
	if l.FromNode == "" || l.FromNode != l.ToNode || l.Path[0] == l.Path[len(l.Path)-1] {
		return
	}
	c.Report(l, ruleSameNode, "from_node", l.FromNode,
		"from_node and to_node are the same, but the line ends elsewhere than it begins; both were left out, so that its place decides what it joins")
	l.FromNode, l.ToNode = "", ""
}
