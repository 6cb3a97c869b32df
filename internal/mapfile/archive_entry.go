package mapfile

import "archive/zip"

// dated returns a header with the date of every entry, 1 January 1980 at midnight, in
// the form of MS-DOS alone.
func dated(h zip.FileHeader) *zip.FileHeader {
	const month, day = 1 << 5, 1 // of year 0, which is 1980
	//lint:ignore SA1019 Modified would add a field of its own, in seconds
	h.ModifiedDate = month | day
	return &h
}

// deflateLevel is how hard the KMZ is packed, 1 to 9.
// Our choice: on a map of 4,500 stands it takes twice the time of level 1 for a file an
// eighth smaller, and level 9 ten times that time for another eighth.
const deflateLevel = 5

// store adds a file that is packed already.
func store(z *zip.Writer, name string, data []byte) error {
	f, err := z.CreateHeader(dated(zip.FileHeader{Name: name, Method: zip.Store}))
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return err
}
