package correction

// Rulings is what corrections say of stands that are yet to be mapped.
type Rulings struct {
	Given int         // identities of the quarter that known stands have
	Same  [][2]string // a record and the stand it is
	Finds [][2]string // a record and a stand it is not
	Apart [][2]string // two stands that are not one
}
