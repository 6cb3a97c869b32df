// Package crew has what crew sheets need besides the places of the stands: names that fit the screen of
// a GPS unit, the programme's own words, and the sentences on a sheet.
package crew

// Settings is what a programme tells its crews. A blank setting becomes a line to fill in by hand.
type Settings struct {
	Programme    string // name in the heading of the sheets
	MeetingPlace string // where to meet in an emergency
	Emergency    string // whom to call, and how
	Drying       string // where cut cane is dried
	StopWhen     string // limits of wind, rain and water at which work stops

	// Owner, Permission and Gate are the columns of the survey points with these details of a stand,
	// ignoring case.
	Owner, Permission, Gate string

	MostStops int // on the sheets
}

// DefaultSettings returns settings without texts; columns have plain names.
func DefaultSettings() Settings {
	return Settings{Owner: "owner", Permission: "permission", Gate: "gate", MostStops: 60}
}
