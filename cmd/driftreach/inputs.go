package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"driftreach/geo/earth"
	"driftreach/internal/batch"
	"driftreach/internal/disk"
	"driftreach/internal/format"
	"driftreach/internal/survey"
)

// inputFlags are the flags by which a command takes its input.
type inputFlags struct {
	points, surveyed, treatments, corrections []string
	streams, works, units, barriers, water    string
	quarter                                   string

	flags *pflag.FlagSet // which of them were given

	pointsCRS, streamsCRS, worksCRS, unitsCRS, surveyedCRS, treatmentsCRS, barriersCRS, waterCRS string
}

func (f *inputFlags) add(flags *pflag.FlagSet, quarterText string) {
	f.flags = flags
	flags.StringArrayVar(&f.points, "points", nil, "survey points `FILE`, repeatable: CSV, .xlsx, GeoJSON, GeoPackage, GeoParquet, Shapefile, GPX, KML, or one of them zipped; FILE:LAYER names a layer or sheet")
	flags.StringVar(&f.streams, "streams", "", "stream centerlines `FILE` of the same formats")
	flags.StringVar(&f.works, "works", "", "planned works `FILE` of the same formats, points, lines or areas: who is to be told of stands near by")
	flags.StringVar(&f.units, "units", "", "reporting units `FILE`, areas: what acreage is reported by")
	flags.StringArrayVar(&f.surveyed, "surveyed", nil, "ground walked or flown this quarter `FILE`, repeatable, lines or areas, tracks too; without it, the ground about the points")
	flags.StringArrayVar(&f.treatments, "treatments", nil, "control work done `FILE`, repeatable, by stand or position: from it follow the next visits")
	flags.StringArrayVar(&f.corrections, "corrections", nil, "corrections `FILE`, repeatable: look-alikes, stands that are one or are not, absences that were wrong; the chain keeps them")
	flags.StringVar(&f.barriers, "barriers", "", "barriers `FILE`, points: dams, reservoirs, weirs and culverts that the streams do not tell of")
	flags.StringVar(&f.water, "water", "", "water surfaces `FILE`, areas: lakes and wide rivers, whose edge is the bank")
	group(flags, inputGroup)
	flags.StringVar(&f.pointsCRS, "points-crs", "", "reference `SYSTEM` of the points, as in EPSG:26911, or a .prj file; without it, what the file says")
	flags.StringVar(&f.streamsCRS, "streams-crs", "", "reference `SYSTEM` of the streams")
	flags.StringVar(&f.worksCRS, "works-crs", "", "reference `SYSTEM` of the works")
	flags.StringVar(&f.unitsCRS, "units-crs", "", "reference `SYSTEM` of the units")
	flags.StringVar(&f.surveyedCRS, "surveyed-crs", "", "reference `SYSTEM` of the surveyed ground")
	flags.StringVar(&f.treatmentsCRS, "treatments-crs", "", "reference `SYSTEM` of the control work")
	flags.StringVar(&f.barriersCRS, "barriers-crs", "", "reference `SYSTEM` of the barriers")
	flags.StringVar(&f.waterCRS, "water-crs", "", "reference `SYSTEM` of the water surfaces")
	group(flags, systemGroup)
	flags.StringVar(&f.quarter, "quarter", "", quarterText)
	group(flags, inputGroup)
}

// none says whether no input is named.
func (f *inputFlags) none() bool {
	return len(f.points)+len(f.surveyed)+len(f.treatments)+len(f.corrections) == 0 && f.streams+f.works+f.units+f.barriers+f.water == ""
}

// read returns the inputs the flags name. The files are there and can be
// opened; nothing of them has been read.
func (f *inputFlags) read(d disk.Disk) (batch.Inputs, error) {
	var in batch.Inputs
	var err error
	if f.quarter != "" {
		if in.Quarter, err = survey.ParseQuarter(f.quarter); err != nil {
			return in, &usageError{err.Error(), "write for example --quarter 2026Q3"}
		}
	}
	roles := []struct {
		name   string
		files  []string
		system string
		into   *[]format.Source
		crs    *string
	}{
		{"points", f.points, f.pointsCRS, &in.Points, &in.PointsCRS},
		{"streams", one(f.streams), f.streamsCRS, &in.Streams, &in.StreamsCRS},
		{"works", one(f.works), f.worksCRS, &in.Works, &in.WorksCRS},
		{"units", one(f.units), f.unitsCRS, &in.Units, &in.UnitsCRS},
		{"surveyed", f.surveyed, f.surveyedCRS, &in.Surveyed, &in.SurveyedCRS},
		{"treatments", f.treatments, f.treatmentsCRS, &in.Treatments, &in.TreatmentsCRS},
		{"corrections", f.corrections, "", &in.Corrections, new(string)},
		{"barriers", one(f.barriers), f.barriersCRS, &in.Barriers, &in.BarriersCRS},
		{"water", one(f.water), f.waterCRS, &in.Water, &in.WaterCRS},
	}
	for _, r := range roles {
		if *r.crs, err = reference(d, "--"+r.name+"-crs", r.system); err != nil {
			return in, err
		}
	}
	var paths []string
	for _, r := range roles {
		for _, name := range r.files {
			source, err := fileSource(d, name)
			if err != nil {
				return in, err
			}
			paths = append(paths, name)
			*r.into = append(*r.into, source)
		}
	}
	shown := shownNames(paths)
	for _, r := range roles {
		for i := range r.files {
			(*r.into)[i].Name, shown = shown[0], shown[1:]
		}
	}
	return in, nil
}

// one returns the file of a flag that is given once, if it is.
func one(name string) []string {
	if name == "" {
		return nil
	}
	return []string{name}
}

// maxReferenceBytes bounds what is read of a reference system's definition. Our
// choice: far more than the longest.
const maxReferenceBytes = 1 << 20

// reference returns the definition that a flag names: the content of a file, or
// the text itself. It can be read.
func reference(d disk.Disk, flag, text string) (string, error) {
	if text == "" {
		return "", nil
	}
	if _, err := d.Stat(text); err == nil {
		content, err := disk.ReadFile(d, text, maxReferenceBytes)
		if err != nil {
			return "", &usageError{flag + ": " + fault(err), remedyFor(err, "name a .prj file, or write for example EPSG:26911")}
		}
		text = string(content)
	}
	if _, err := earth.ParseCRS(text); err != nil {
		remedy := "write for example " + flag + " EPSG:26911, or name a .prj file"
		if errors.Is(err, earth.ErrDatum) {
			remedy = format.SystemRemedy(err)
		}
		return "", &usageError{flag + ": " + strings.TrimSuffix(err.Error(), ": "+earth.ErrUnsupported.Error()), remedy}
	}
	return text, nil
}

// splitLayer returns the file that an input's name names, and the layer: a name of
// which there is no file may be that of a file and, after its last colon, of a layer.
func splitLayer(d disk.Disk, name string) (file, layer string) {
	if _, err := d.Stat(name); errors.Is(err, fs.ErrNotExist) {
		if k := strings.LastIndexByte(name, ':'); k > 0 {
			if _, err := d.Stat(name[:k]); err == nil {
				return name[:k], name[k+1:]
			}
		}
	}
	return name, ""
}

// fileSource returns the source of a file that can be opened.
func fileSource(d disk.Disk, named string) (format.Source, error) {
	name, layer := splitLayer(d, named) // findings and manifest say what the user said
	remedy := "check the name, and that the file may be read"
	file, err := d.Open(name)
	if err != nil {
		var none *disk.NoFileError
		switch {
		case errors.Is(err, fs.ErrNotExist):
			remedy = "check the name; a name with spaces needs quotes"
		case errors.As(err, &none) && none.Mode.IsDir() && strings.EqualFold(filepath.Ext(strings.TrimSuffix(name, "/")), ".gdb"):
			return format.Source{}, &inputError{fmt.Errorf("open input: %s: it is a file geodatabase, which cannot be read here", name), "save its layer as GeoPackage"}
		case errors.As(err, &none):
			remedy = none.Remedy()
		}
		return format.Source{}, &inputError{fmt.Errorf("open input: %s", fault(err)), remedy}
	}
	defer file.Close()
	info, err := file.Stat()
	if err != nil {
		return format.Source{}, &inputError{fmt.Errorf("open input: %s", fault(err)), remedy}
	}
	return format.Source{
		Name: named, Layer: layer, Size: info.Size(), Open: func() (io.ReadCloser, error) { return d.Open(name) },
		Beside: func(ending string) (io.ReadCloser, error) { return openBeside(d, name, ending) },
	}, nil
}

// openBeside opens the file of the same name with another ending.
func openBeside(d disk.Disk, name, ending string) (io.ReadCloser, error) {
	path, err := pathBeside(d, name, ending)
	if err != nil {
		return nil, err
	}
	return d.Open(path)
}

// pathBeside returns the file of the same name with another ending, in small letters
// or capitals.
func pathBeside(d disk.Disk, name, ending string) (string, error) {
	stem := strings.TrimSuffix(name, filepath.Ext(name))
	tries := []string{stem + ending, stem + strings.ToUpper(ending)}
	if ending == ".gpkg-wal" { // SQLite puts it after the whole name
		tries = []string{name + "-wal"}
	}
	for _, path := range tries {
		if _, err := d.Stat(path); !errors.Is(err, fs.ErrNotExist) {
			return path, err
		}
	}
	return "", fs.ErrNotExist
}

// size returns how many bytes the inputs have.
func size(in batch.Inputs) int64 {
	total := int64(0)
	for _, source := range in.Sources() {
		total += source.Size
	}
	return total
}
