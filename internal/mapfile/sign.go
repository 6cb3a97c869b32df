package mapfile

import (
	"driftreach/internal/drift"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// Sign is how the map draws one kind of feature, so that other maps can draw it in the same way.
type Sign struct {
	ID, Label  string
	Line, Fill string  // colours, #rrggbb
	Width      float64 // of the line, pixels
	Cover      float64 // opacity of the fill, 0 to 1
	Shape      string  // of a point: disc, square, triangle, cross or ring; blank for lines and areas
}

// Signs returns every sign of a run's map, in the order of its legend.
func Signs(run *result.Run) []Sign {
	var all []Sign
	for _, l := range shownLooks(run) {
		s := Sign{ID: l.id, Label: l.label, Line: l.line.hex(), Fill: l.fill.hex(), Width: l.width, Cover: l.cover}
		if l.width == 0 {
			s.Shape = shapeNames[l.shape]
		}
		all = append(all, s)
	}
	return all
}

// SignOfStand returns the id of a stand's sign.
func SignOfStand(s *result.Stand) string { return lookOf(s).id }

// SignOfReach returns the id of a stretch's sign.
func SignOfReach(c drift.Class) string { return reachLook(c).id }

// SignOfPoint returns the id of a survey record's sign.
func SignOfPoint(r *survey.Record) string { return pointLook(r).id }

// SignOfZone returns the id of the aquatic zone's sign.
func SignOfZone() string { return zoneLook().id }

// SignOfWork returns the id of a planned work's sign.
func SignOfWork() string { return workLook().id }

// SignOfAbsent returns the id of the sign of a stand not detected since.
func SignOfAbsent() string { return absentLook().id }

// Told returns a value as balloons show it: numbers rounded for a reader and with their unit, lists
// item by item, flags in words. It is blank if there is no value.
func Told(f result.Field, v result.Value) string {
	switch {
	case blank(v):
		return ""
	case v.Kind == result.Flag && v.Int != 0:
		return "yes"
	case v.Kind == result.Flag:
		return "no"
	}
	text := v.String()
	if v.Kind == result.Number && f.Unit != result.Degrees {
		text = result.Shown(v, f.Unit)
	}
	if f.Unit != result.NoUnit && f.Unit != result.Index {
		text += " " + string(f.Unit)
	}
	return text
}
