package format

import "time"

// The day numbers that are read as dates: 2000-01-01 to 2099-12-31. Our choice: no other way of writing
// a date has five digits.
const (
	FirstSerial = 36526
	LastSerial  = 73050
)

// SerialEpoch is day 0 of spreadsheet dates (ECMA-376 part 1, 18.17.4.1, the 1900 date system). It is
// right from March 1900 on; that system counts a 29 February 1900, which did not exist.
var SerialEpoch = time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)
