package validate

import (
	"slices"
	"strconv"
	"strings"
	"time"
)

// kmlSpace is the namespace of OGC KML 2.2 (07-147r2, section 1).
const kmlSpace = "http://www.opengis.net/kml/2.2"

// KML checks a KML 2.2 document beyond its schema: order of elements, links that resolve, declared and
// typed data, colours, times, positions and rings. files are the files that relative links may refer
// to.
func KML(data []byte, within Bounds, files ...string) *Report {
	r := &Report{}
	root, err := parse(data)
	if err != nil {
		r.addf("not XML: %v", err)
		return r
	}
	if root.name != "kml" || root.space != kmlSpace {
		r.addf("root is %s in %q", root.name, root.space)
	}
	k := &kmlCheck{r: r, within: within, files: files, ids: map[string]*node{}}
	root.walk(k.gather)
	root.walk(k.check)
	return r
}

func (k *kmlCheck) gather(n *node) {
	if n.name == "Placemark" {
		k.r.Features++
	}
	id := n.attr["id"]
	if id == "" {
		return
	}
	if k.ids[id] != nil {
		k.r.addf("%s: id %q is not unique", n.name, id)
	}
	k.ids[id] = n
}

func (k *kmlCheck) check(n *node) {
	switch n.name {
	case "Document", "Folder", "Placemark", "ScreenOverlay", "NetworkLink":
		k.feature(n)
	case "Style":
		k.order(n, styleOrder)
	case "styleUrl":
		k.link(n, n.text, "Style", "StyleMap")
	case "SchemaData":
		k.schemaData(n)
	case "SimpleField":
		if !slices.Contains([]string{"string", "int", "uint", "short", "ushort", "float", "double", "bool"}, n.attr["type"]) {
			k.r.addf("SimpleField %s: type %q", n.attr["name"], n.attr["type"])
		}
	case "Data":
		if n.value("value") == "" {
			k.r.addf("Data %s is empty", n.attr["name"])
		}
	case "TimeSpan":
		k.timeSpan(n)
	case "color", "bgColor", "textColor":
		k.color(n)
	case "href":
		k.href(n)
	default:
		k.geometry(n)
	}
}

// featureOrder is the order of the elements of AbstractFeatureType and of the types derived from it
// (ogckml22.xsd).
var featureOrder = []string{
	"name", "visibility", "open", "author", "link", "address", "AddressDetails", "phoneNumber",
	"Snippet", "snippet", "description", "Camera", "LookAt", "TimeStamp", "TimeSpan", "styleUrl", "Style", "StyleMap",
	"Region", "Metadata", "ExtendedData",
	"color", "drawOrder", "Icon", "overlayXY", "screenXY", "rotationXY", "size", "rotation",
	"Schema", "Document", "Folder", "Placemark", "ScreenOverlay", "NetworkLink", "Link",
	"Point", "LineString", "LinearRing", "Polygon", "MultiGeometry",
}

// styleOrder is the order of StyleType's elements.
var styleOrder = []string{"IconStyle", "LabelStyle", "LineStyle", "PolyStyle", "BalloonStyle", "ListStyle"}

// anyOrder lists the children of Document and Folder that may come in any order.
var anyOrder = []string{"Style", "StyleMap", "Folder", "Document", "Placemark", "ScreenOverlay", "NetworkLink"}

func (k *kmlCheck) feature(n *node) {
	if n.value("name") == "" {
		k.r.addf("%s without a name", n.name)
	}
	if d := n.child("description"); d != nil && strings.TrimSpace(d.text) == "" {
		k.r.addf("%s %q: description is empty", n.name, n.value("name"))
	}
	k.order(n, featureOrder)
}

// order checks that children come in the order of the list.
func (k *kmlCheck) order(n *node, list []string) {
	last, lastName := -1, ""
	for _, c := range n.children {
		at := slices.Index(list, c.name)
		if at < 0 {
			k.r.addf("%s: element %s does not belong there", n.name, c.name)
			continue
		}
		if at < last && !(slices.Contains(anyOrder, c.name) && slices.Contains(anyOrder, lastName)) {
			k.r.addf("%s: element %s comes after %s", n.name, c.name, lastName)
		}
		last, lastName = at, c.name
	}
}

// link checks that a "#id" refers to an element with one of the given names.
func (k *kmlCheck) link(n *node, url string, names ...string) *node {
	id, ok := strings.CutPrefix(strings.TrimSpace(url), "#")
	target := k.ids[id]
	if !ok || target == nil || !slices.Contains(names, target.name) {
		k.r.addf("%s: %q does not resolve", n.name, url)
		return nil
	}
	return target
}

func (k *kmlCheck) schemaData(n *node) {
	schema := k.link(n, n.attr["schemaUrl"], "Schema")
	if schema == nil {
		return
	}
	types := map[string]string{}
	for _, f := range schema.children {
		types[f.attr["name"]] = f.attr["type"]
	}
	seen := map[string]bool{}
	for _, d := range n.children {
		name := d.attr["name"]
		if seen[name] {
			k.r.addf("SimpleData %s comes twice", name)
		}
		seen[name] = true
		k.simpleData(name, d.text, types)
	}
}

func (k *kmlCheck) simpleData(name, text string, types map[string]string) {
	kind, declared := types[name]
	var err error
	switch {
	case !declared:
		k.r.addf("SimpleData %s is not declared", name)
	case strings.TrimSpace(text) == "":
		k.r.addf("SimpleData %s is empty", name)
	case kind == "int":
		_, err = strconv.ParseInt(text, 10, 32)
	case kind == "double":
		var x float64
		x, err = strconv.ParseFloat(text, 64)
		if x != x || x-x != 0 {
			k.r.addf("SimpleData %s is %s", name, text)
		}
	case kind == "bool":
		_, err = strconv.ParseBool(text)
	}
	if err != nil {
		k.r.addf("SimpleData %s: %q is no %s", name, text, kind)
	}
}

func (k *kmlCheck) timeSpan(n *node) {
	begin, err1 := time.Parse(time.RFC3339, n.value("begin"))
	end, err2 := time.Parse(time.RFC3339, n.value("end"))
	if err1 != nil || err2 != nil || end.Before(begin) {
		k.r.addf("TimeSpan from %q to %q", n.value("begin"), n.value("end"))
	}
}

// color checks for eight lower-case hexadecimal digits, aabbggrr.
func (k *kmlCheck) color(n *node) {
	text := strings.TrimSpace(n.text)
	if len(text) != 8 || strings.Trim(text, "0123456789abcdef") != "" {
		k.r.addf("%s %q is not aabbggrr", n.name, text)
	}
}

func (k *kmlCheck) href(n *node) {
	if k.r.links == nil {
		k.r.links = map[string]bool{}
	}
	k.r.links[strings.TrimSpace(n.text)] = true
	if !slices.Contains(k.files, strings.TrimSpace(n.text)) {
		k.r.addf("href %q is not in the file", n.text)
	}
}
