package report

// ink is the style of one measure. Colour, dashes and the mark at each value all differ, so that colour
// is never the only difference.
type ink struct {
	class       string // in the style sheet
	light, dark string // colours on white and on black
	dashes      string
	mark        mark
}

type mark int

const (
	disc mark = iota
	square
	triangle
	diamond
)

// Colours of Okabe and Ito (Color Universal Design, 2008), darkened on white until each has the
// contrast of 3 : 1 that WCAG 2.2, 1.4.11, requires for graphics. Reach has the purple of the map. In
// order: live, infested, gross, canopy, zone, treated, standing dead, reach.
var inks = [...]ink{
	{"live", "#1A1A1A", "#F2F2F2", "", disc},
	{"infested", "#0072B2", "#56B4E9", "9 3 2 3", diamond},
	{"gross", "#B34E00", "#F08C4A", "7 3", square},
	{"canopy", "#007D5C", "#2CC79A", "3 3", triangle},
	{"zone", "#A3527F", "#E09BC0", "9 3 2 3", diamond},
	{"treated", "#007D5C", "#2CC79A", "", disc},
	{"dead", "#1A1A1A", "#F2F2F2", "7 3", square},
	{"reach", "#762A83", "#C2A5CF", "", diamond},
}

// grounds are the styles of areas: the carried part and the parts of change.
const grounds = `.carried{stroke:none;fill-opacity:.15}.hatch{fill:none;stroke-width:1;stroke-opacity:.75}.pale{fill-opacity:.35}.hollow{fill:none;stroke-width:1.6}`

// style returns the picture's style sheet, light and dark.
func style() string {
	css := `svg{background:#fff;color:#1a1a1a;font-family:system-ui,"Segoe UI",Roboto,"Helvetica Neue",Arial,sans-serif;font-size:13px}` +
		`text{fill:currentColor}.h1{font-size:21px;font-weight:600}.h2{font-size:15px;font-weight:600}.soft{fill:#555}.end{text-anchor:end}.mid{text-anchor:middle}` +
		`.grid{stroke:#ddd}.axis{stroke:#777}.gap{fill:#00000012}.lead{stroke:#999}.line{fill:none;stroke-width:2.2;stroke-linejoin:round}.sen{stroke-width:1;stroke-opacity:.8}.range{stroke-width:3;stroke-opacity:.45}`
	for _, k := range inks {
		css += "." + k.class + "{stroke:" + k.light + ";fill:" + k.light + "}"
		if k.dashes != "" {
			css += ".line." + k.class + "{stroke-dasharray:" + k.dashes + "}"
		}
	}
	css += `.line,.sen{fill:none}` + grounds + `@media (prefers-color-scheme:dark){svg{background:#16181d;color:#eee}.soft{fill:#b5b8bf}.grid{stroke:#3a3d44}.axis{stroke:#8d9098}.gap{fill:#ffffff14}.lead{stroke:#777}`
	for _, k := range inks {
		css += "." + k.class + "{stroke:" + k.dark + ";fill:" + k.dark + "}"
	}
	return css + ".line,.sen{fill:none}" + grounds + "}"
}
