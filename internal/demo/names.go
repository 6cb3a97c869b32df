package demo

// Every name of the invented country is in this file. They were made up from syllables for this
// project; any likeness to a real place is chance.
const (
	countryName   = "Meridwane"
	programmeName = "Meridwane Riverside Plant Programme"
	reservoirName = "Lake Pellorow"
)

// places are sites on dry land, in the order of drySites.
var places = []string{
	"old garden, Harrowmel homestead", "windbreak, Tennivar farm", closedRoad,
	"quarry, Orvennish Shore", "verge, Downs Road", "nursery yard, Fennikar", "verge, Lake Road",
}

// closedRoad was closed by a landslip for a quarter.
const closedRoad = "road cut, Coast Road"

// Offices that plan works.
const (
	roadsOffice    = "Iskarrow Roads Office"
	shoreOffice    = "Orvennish Shore Works Office"
	downsOffice    = "Tullimar Downs Parks Office"
	drainageOffice = "Meridwane Drainage Board"
)

var districtNames = []string{"Upper Iskarrow", "Orvennish Shore", "Tullimar Downs"}

// plan is one named stream of the country: where it joins another, and how long it is.
type plan struct {
	code string  // first part of its stream_id
	name string  // waterBody
	into string  // code of the stream it joins; blank for the one that flows into the sea
	at   float64 // place of the confluence, as a share of that stream's length from its mouth
	side float64 // +1 joins on the left looking upstream, -1 on the right
	km   float64 // length along the water
}

// plans lists the rivers, then the creeks, then the forks of creeks; each stream comes after the one it
// joins. Lengths are our choice: about 190 km in all, a catchment that a crew of four can walk in a
// quarter.
var plans = []plan{
	{"ISK", "Iskarrow River", "", 0, 0, 47},
	{"ORV", "Orvenna River", "ISK", 0.30, +1, 26},
	{"TUL", "Tullimar River", "ISK", 0.52, -1, 19},
	{"VES", "Vessick River", "ORV", 0.42, +1, 12},

	{"FEN", "Fennikar Creek", "ISK", 0.07, -1, 5.0},
	{"KES", "Kessilow Creek", "ISK", 0.14, +1, 5.5},
	{"POM", "Pomarrel Creek", "ISK", 0.22, -1, 6.5},
	{"DUN", "Dunnavick Creek", "ISK", 0.39, -1, 5.0},
	{"WIM", "Wimmelow Creek", "ISK", 0.62, +1, 6.0},
	{"BRA", "Brazzik Creek", "ISK", 0.72, -1, 5.0},
	{"HOL", "Hollunder Creek", "ISK", 0.82, +1, 4.0},
	{"SOR", "Sorrimel Creek", "ISK", 0.91, -1, 3.0},

	{"TAM", "Tammerick Creek", "ORV", 0.16, -1, 3.5},
	{"LUP", "Luppenny Creek", "ORV", 0.27, +1, 4.5},
	{"GAR", "Garravel Creek", "ORV", 0.58, -1, 5.0},
	{"MIZ", "Mizzenow Creek", "ORV", 0.72, +1, 4.0},
	{"QUI", "Quillory Creek", "ORV", 0.85, -1, 3.0},

	{"ELK", "Elkaroon Creek", "TUL", 0.18, -1, 4.0},
	{"NAV", "Navissel Creek", "TUL", 0.50, +1, 4.5},
	{"RUD", "Ruddimow Creek", "TUL", 0.68, -1, 4.0},
	{"JEB", "Jebbarin Creek", "TUL", 0.84, +1, 2.5},

	{"CLO", "Clovarrick Creek", "VES", 0.36, -1, 3.5},
	{"THI", "Thimmarel Creek", "VES", 0.66, +1, 3.0},

	{"POF", "Pomarrel Fork", "POM", 0.45, +1, 2.2},
	{"DUF", "Dunnavick Fork", "DUN", 0.50, -1, 1.8},
	{"WIF", "Wimmelow Fork", "WIM", 0.40, -1, 2.2},
	{"BRF", "Brazzik Fork", "BRA", 0.45, +1, 1.8},
	{"LUF", "Luppenny Fork", "LUP", 0.42, -1, 1.6},
	{"GAF", "Garravel Fork", "GAR", 0.40, +1, 2.0},
	{"MIF", "Mizzenow Fork", "MIZ", 0.45, -1, 1.5},
	{"NAF", "Navissel Fork", "NAV", 0.45, +1, 1.8},
	{"RUF", "Ruddimow Fork", "RUD", 0.40, +1, 1.6},
	{"CLF", "Clovarrick Fork", "CLO", 0.45, +1, 1.3},
}
