package correction

// Rulings is what corrections say about how stands are mapped.
type Rulings struct {
	Given int         // number of ids of this quarter that known stands have already
	Same  [][2]string // a record and the stand it belongs to
	Finds [][2]string // a record and a stand it does not belong to
	Apart [][2]string // two stands that are not the same
}
