// Package crew holds what crew sheets say besides where the stands are:
// names that fit a unit's screen, the programme's own words, and the sentences of a
// sheet.
package crew

// Settings is what a programme tells its crews. A blank setting becomes a line to fill in
// by hand, since the program cannot know it.
type Settings struct {
	Programme    string // its name, in the head of the sheets
	MeetingPlace string // where to meet in an emergency
	Emergency    string // whom to call, and how
	Drying       string // where cut cane is dried
	StopWhen     string // limits of wind, rain and water at which work stops

	// Owner, Permission and Gate are columns of the survey points that tell these of a
	// stand, whatever their case.
	Owner, Permission, Gate string

	MostStops int // on the sheets
}

// DefaultSettings has no words of its own: columns are looked for by plain names.
func DefaultSettings() Settings {
	return Settings{Owner: "owner", Permission: "permission", Gate: "gate", MostStops: 60}
}
