package earth

import "fmt"

// shiftedCodes are the codes of systems on datums that lie farther than a metre from WGS 84, by the
// name of the geographic system: those of old maps and GPS units that are most often met. They are
// only told apart from codes that are not known. [P] EPSG Geodetic Parameter Dataset; compared with
// PROJ.
var shiftedCodes = []struct {
	first, last int
	name        string
}{
	{4267, 4267, "NAD27"}, {26701, 26722, "NAD27"}, {32001, 32058, "NAD27"},
	{4230, 4230, "ED50"}, {23028, 23038, "ED50"},
	{4277, 4277, "OSGB36"}, {27700, 27700, "OSGB36"},
	{4283, 4283, "GDA94"}, {28348, 28358, "GDA94"},
	{4202, 4202, "AGD66"}, {20248, 20258, "AGD66"}, {4203, 4203, "AGD84"}, {20348, 20358, "AGD84"},
	{4314, 4314, "DHDN"}, {31466, 31469, "DHDN"},
	{4289, 4289, "Amersfoort"}, {28992, 28992, "Amersfoort"},
	{4313, 4313, "BD72"}, {31370, 31370, "BD72"},
	{4312, 4312, "MGI"}, {31254, 31259, "MGI"},
	{4149, 4149, "CH1903"}, {21781, 21781, "CH1903"},
	{4272, 4272, "NZGD49"}, {27200, 27200, "NZGD49"},
	{4618, 4618, "SAD69"}, {29168, 29172, "SAD69"}, {29187, 29195, "SAD69"},
	{4284, 4284, "Pulkovo 1942"}, {28402, 28432, "Pulkovo 1942"},
	{4275, 4275, "NTF"}, {4222, 4222, "Cape"}, {4301, 4301, "Tokyo"},
}

// checkShifted returns an error for a code of shiftedCodes.
func checkShifted(code int) error {
	for _, s := range shiftedCodes {
		if code >= s.first && code <= s.last {
			return fmt.Errorf("EPSG:%d: positions on the datum of %s may lie more than a metre from WGS 84, and no shift is applied here: %w", code, s.name, ErrDatum)
		}
	}
	return nil
}
