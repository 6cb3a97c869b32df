package result

import (
	"driftreach/internal/field"
)

// visitOf returns, by stand, the index of its row in Visits; -1 for none.
func (r *Run) visitOf() []int32 {
	at := make([]int32, len(r.Stands))
	for i := range at {
		at[i] = -1
	}
	for i := range r.Visits {
		if s := r.Visits[i].Stand; s >= 0 {
			at[s] = int32(i)
		}
	}
	return at
}

// placeFields are the two columns with the place to go to in a stand. Its visit, its waypoint and its
// calendar event have the same one. stand returns the index of a row's stand.
func placeFields(run *Run, stand func(r *Run, i int) int32) []Field {
	visits := run.visitOf()
	along := func(axis int) func(*Run, int) Value {
		return func(r *Run, i int) Value {
			v := visits[stand(r, i)]
			if v < 0 {
				return Value{}
			}
			at := r.Visits[v].Place.Position
			return number(at[axis], Degrees)
		}
	}
	return []Field{
		{field.DecimalLongitude, "Longitude", Degrees, Number, "Longitude of a place to go to inside the stand, WGS 84, the same as in followup.csv and crew.gpx. Where an area was drawn as treated, the place is in the part that still waits for treatment.", "Darwin Core [P]",
			along(0)},
		{field.DecimalLatitude, "Latitude", Degrees, Number, "Latitude of that place.", "Darwin Core [P]",
			along(1)},
	}
}
