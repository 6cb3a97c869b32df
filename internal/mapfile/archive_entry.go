package mapfile

import "archive/zip"

// dated returns a header with the date of every entry, 1 January 1980 at midnight, in MS-DOS form only.
func dated(h zip.FileHeader) *zip.FileHeader {
	const month, day = 1 << 5, 1 // of year 0, which means 1980
	//lint:ignore SA1019 Modified would add a field of its own, in seconds
	h.ModifiedDate = month | day
	return &h
}

// Compression levels, 1 to 9. Our choice, by what a map of 4,500 stands and its layers take.
const (
	// For words: compared with level 1 it takes twice the time and makes map.kmz an eighth smaller.
	// Level 9 takes ten times as long for another eighth.
	wordsLevel = 5
	// For layers that are mostly coordinates: level 5 takes twice the time and makes them a fiftieth
	// smaller.
	outlinesLevel = 2
)

// store adds a file without compressing it; it is compressed already.
func store(z *zip.Writer, name string, data []byte) error {
	f, err := z.CreateHeader(dated(zip.FileHeader{Name: name, Method: zip.Store}))
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return err
}
