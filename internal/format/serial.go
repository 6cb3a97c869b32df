package format

import "time"

// The day numbers that are taken for dates: of this century, from 2000-01-01 to
// 2099-12-31. Our choice: no other way to write a date has five digits.
const (
	FirstSerial = 36526
	LastSerial  = 73050
)

// SerialEpoch is day 0 of spreadsheets: ECMA-376 part 1, 18.17.4.1, the 1900 date
// system, for days after the February of 1900 that had no 29th.
var SerialEpoch = time.Date(1899, time.December, 30, 0, 0, 0, 0, time.UTC)
