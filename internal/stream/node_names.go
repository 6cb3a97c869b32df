package stream

// checkNodes leaves out node names that are the same at both ends of a line whose ends are apart.
// Such a name is a filler, like 0 or -9998 in extracts with lines outside their network. Followed,
// it would join distant lines and cut each off as a ring.
func (c *checker) checkNodes(l *Centerline) {
	if l.FromNode == "" || l.FromNode != l.ToNode || l.Path[0] == l.Path[len(l.Path)-1] {
		return
	}
	c.Report(l, ruleSameNode, "from_node", l.FromNode,
		"from_node and to_node are the same, but the line ends elsewhere than it begins; both were left out, so that its place decides what it joins")
	l.FromNode, l.ToNode = "", ""
}
