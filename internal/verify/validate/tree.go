package validate

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
)

// node is an XML element.
type node struct {
	name     string
	space    string
	attr     map[string]string
	children []*node
	text     string
}

// parse returns the document's root element.
func parse(data []byte) (*node, error) {
	d := xml.NewDecoder(bytes.NewReader(data))
	var root *node
	var open []*node
	for {
		t, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			return nil, err
		}
		switch t := t.(type) {
		case xml.StartElement:
			n := newNode(t)
			if len(open) > 0 {
				top := open[len(open)-1]
				top.children = append(top.children, n)
			} else if root == nil {
				root = n
			}
			open = append(open, n)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				open[len(open)-1].text += string(t)
			}
		}
	}
	if root == nil {
		return nil, errors.New("no element")
	}
	return root, nil
}

func newNode(t xml.StartElement) *node {
	n := &node{name: t.Name.Local, space: t.Name.Space}
	if len(t.Attr) > 0 {
		n.attr = make(map[string]string, len(t.Attr))
	}
	for _, a := range t.Attr {
		n.attr[a.Name.Local] = a.Value
	}
	return n
}

// child returns the first child of that name, or nil.
func (n *node) child(name string) *node {
	for _, c := range n.children {
		if c.name == name {
			return c
		}
	}
	return nil
}

// value returns the trimmed text of the first child of that name.
func (n *node) value(name string) string {
	if c := n.child(name); c != nil {
		return strings.TrimSpace(c.text)
	}
	return ""
}

// walk calls visit for n and everything below it, parents first.
func (n *node) walk(visit func(*node)) {
	visit(n)
	for _, c := range n.children {
		c.walk(visit)
	}
}
