package mapfile

import (
	"fmt"
	"image/color"
	"slices"

	"driftreach/internal/drift"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// ink is a colour, 0xRRGGBB.
type ink uint32

// The colours of stands and points are Okabe & Ito's (Color Universal Design, 2008), which can be
// distinguished with any colour vision. Those of reaches are the purple half of Tol's PRGn scheme
// (SRON/EPS/TN/09-002, issue 3.2, 2021), a single hue that gets darker with risk, and grey for possible
// reach. Width, fill and shape differ too, so that colour is never the only difference.
const (
	vermillion  ink = 0xD55E00
	bluishGreen ink = 0x009E73
	orange      ink = 0xE69F00
	black       ink = 0x000000
	skyBlue     ink = 0x56B4E9
	blue        ink = 0x0072B2
	yellow      ink = 0xF0E442
	deepPurple  ink = 0x762A83
	purple      ink = 0x9970AB
	palePurple  ink = 0xC2A5CF
	grey        ink = 0x999999
	white       ink = 0xFFFFFF
)

// at returns c with the given opacity, 0..1. The library divides the result of RGBA by 256, so the
// channels must not be premultiplied.
func (c ink) at(opacity float64) color.RGBA {
	return color.RGBA{R: uint8(c >> 16), G: uint8(c >> 8), B: uint8(c), A: uint8(255*opacity + 0.5)}
}

// look is the style of one kind of feature, and its line in the legend.
type look struct {
	id    string // of the shared style
	label string
	line  ink
	width float64 // pixels
	fill  ink
	cover float64 // opacity of the fill
	shape shape   // of the icon; noShape for lines and zones
}

// statusLabels are the words in the legend, by survey.Status.
var statusLabels = [...]string{"untreated", "treated", "resprouting", "standing dead"}

// statusInk returns the colour of a status.
func statusInk(s survey.Status) ink {
	switch s {
	case survey.Treated:
		return bluishGreen
	case survey.Resprout:
		return orange
	case survey.StandingDead:
		return black
	}
	return vermillion
}

// standLook returns the style of a stand. The colour shows its status; a heavy blue outline and a
// denser fill show the aquatic zone.
func standLook(s survey.Status, inZone bool) look {
	l := look{id: "stand-upland-" + s.String(), label: "Upland stand, " + statusLabels[s],
		line: statusInk(s), width: 1.5, fill: statusInk(s), cover: 0.35, shape: small}
	if inZone {
		l.id, l.label = "stand-zone-"+s.String(), "Aquatic-zone stand, "+statusLabels[s]
		l.line, l.width, l.cover = blue, 3, 0.7
	}
	return l
}

// pointLook returns the style of a survey record: a shape for each status, a ring if the plant was not
// detected.
func pointLook(r *survey.Record) look {
	if !r.Detected {
		return look{id: "point-not-detected", label: "Looked, not detected", fill: white, shape: ring}
	}
	s := r.Status
	return look{id: "point-" + s.String(), label: "Survey point, " + statusLabels[s], fill: statusInk(s), shape: shape(s) + disc}
}

// classes are the exposure classes of stream, the highest first.
var classes = []drift.Class{drift.High, drift.Moderate, drift.Low, drift.Possible}

// reachLook returns the style of a piece of stream at risk: darker and wider with its class.
func reachLook(c drift.Class) look {
	switch c {
	case drift.High:
		return look{id: "reach-high", label: "Stream at risk, high", line: deepPurple, width: 7}
	case drift.Moderate:
		return look{id: "reach-moderate", label: "Stream at risk, moderate", line: purple, width: 5}
	case drift.Possible:
		return look{id: "reach-possible", label: "Possible, not at risk", line: grey, width: 2}
	}
	return look{id: "reach-low", label: "Stream at risk, low", line: palePurple, width: 3}
}

// zoneLook returns the style of the aquatic zone.
func zoneLook() look {
	return look{id: "aquatic-zone", label: "Aquatic zone", line: skyBlue, width: 1, fill: skyBlue, cover: 0.3}
}

// looksOf returns every style of a run's map, in the order of the legend.
func looksOf(run *result.Run) []look {
	return slices.Concat(looks(), nextLooks(run), absenceLooks(run))
}

// looks returns every style of every map, in the order of the legend.
func looks() []look {
	var all []look
	for _, inZone := range []bool{true, false} {
		for _, s := range survey.Statuses() {
			all = append(all, standLook(s, inZone))
		}
	}
	for _, c := range classes {
		all = append(all, reachLook(c))
	}
	all = append(all, zoneLook())
	for _, s := range survey.Statuses() {
		all = append(all, pointLook(&survey.Record{Detected: true, Status: s}))
	}
	return append(all, pointLook(&survey.Record{}))
}

// hex returns the colour in the form of style sheets.
func (c ink) hex() string { return fmt.Sprintf("#%06X", uint32(c)) }

// carriedLook returns the style of a stand that nobody surveyed: the usual one, but without fill.
func carriedLook(s survey.Status, inZone bool) look {
	l := standLook(s, inZone)
	l.id, l.label, l.cover = "carried-"+l.id, l.label+", nobody visited", 0
	return l
}

// lookOf returns the style of a stand.
func lookOf(s *result.Stand) look {
	if s.Carried() {
		return carriedLook(s.Status, s.Zone.InZone)
	}
	return standLook(s.Status, s.Zone.InZone)
}

// absentLook returns the style of the last known footprint of a stand not detected since: a thin dark
// outline without fill.
func absentLook() look {
	return look{id: "stand-not-detected", label: "Not detected since it was mapped", line: black, width: 1, fill: white, shape: ring}
}

// absenceLooks are the styles that only maps with a previous batch need.
func absenceLooks(run *result.Run) []look {
	if run.Previous == nil {
		return nil
	}
	var all []look
	for _, inZone := range []bool{true, false} {
		for _, s := range survey.Statuses() {
			all = append(all, carriedLook(s, inZone))
		}
	}
	return append(all, absentLook())
}

// workLook returns the style of a planned work: a broad dark line, or the viewer's own marker.
func workLook() look {
	return look{id: "work", label: "Planned work to warn", line: black, width: 4, fill: yellow, cover: 0.4}
}

// nextLook returns the style of a stretch on the list: a broad light line under the stream, broader if
// it was never surveyed.
func nextLook(never bool) look {
	if never {
		return look{id: "look-next-never", label: "Look here next, most or all of it never looked at", line: yellow, width: 14}
	}
	return look{id: "look-next", label: "Look here next", line: yellow, width: 9}
}

// nextLooks are the styles of the list of where to survey next; none without a list.
func nextLooks(run *result.Run) []look {
	if run.Stretches == nil {
		return nil
	}
	return []look{nextLook(true), nextLook(false)}
}

// shownLooks are the styles of everything that a run's map can show.
func shownLooks(run *result.Run) []look {
	all := looksOf(run)
	if run.WorksGiven {
		all = append(all, workLook())
	}
	return all
}
