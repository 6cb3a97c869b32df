package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/disk"
	"driftreach/internal/format"
	"driftreach/internal/intake"
	"driftreach/internal/observed"
	"driftreach/internal/survey"
)

// inputFlags are the flags for a command's input.
type inputFlags struct {
	roles   []*roleFlags
	quarter string

	flags *pflag.FlagSet // to see which flags were given
}

// roleFlags are the flags of one kind of input.
type roleFlags struct {
	intake.Role
	many   []string // files, if the role takes several
	one    string   // the file, if it takes only one
	system string   // reference system of the files
}

func (f *inputFlags) add(flags *pflag.FlagSet, quarterText string) {
	f.addRoles(flags, intake.Roles())
	flags.StringVar(&f.quarter, "quarter", "", quarterText)
	group(flags, inputGroup)
}

// addRoles adds the flags for some kinds of input.
func (f *inputFlags) addRoles(flags *pflag.FlagSet, roles []intake.Role) {
	f.flags = flags
	for _, role := range roles {
		f.roles = append(f.roles, &roleFlags{Role: role})
	}
	for _, r := range inHelp(f.roles) {
		if r.Many {
			flags.StringArrayVar(&r.many, r.Name, nil, r.Help)
		} else {
			flags.StringVar(&r.one, r.Name, "", r.Help)
		}
	}
	group(flags, inputGroup)
	for _, r := range f.roles {
		if r.System != "" {
			flags.StringVar(&r.system, r.systemFlag(), "", "reference `SYSTEM` of "+r.System)
		}
	}
	group(flags, systemGroup)
}

// inHelp returns the roles in the order of help: first what a batch needs, then what else people
// record, then what else describes the water.
func inHelp(roles []*roleFlags) []*roleFlags {
	return slices.SortedStableFunc(slices.Values(roles), func(a, b *roleFlags) int {
		return cmp.Or(geo.CompareBools(b.Needed, a.Needed), geo.CompareBools(!a.Needed && a.Digest != nil, !b.Needed && b.Digest != nil))
	})
}

// systemFlag is the flag of the role's reference system.
func (r *roleFlags) systemFlag() string { return r.Name + "-crs" }

// files returns the files named for the role.
func (r *roleFlags) files() []string {
	if r.one != "" {
		return []string{r.one}
	}
	return r.many
}

// named returns the files named for all roles, in the order of the roles.
func (f *inputFlags) named() []string {
	var all []string
	for _, r := range f.roles {
		all = append(all, r.files()...)
	}
	return all
}

// read returns the inputs that the flags name. The files exist and can be opened; nothing has been read
// from them.
func (f *inputFlags) read(d disk.Disk) (observed.Inputs, error) {
	in := observed.Inputs{Of: map[string]observed.Files{}}
	var err error
	if f.quarter != "" {
		if in.Quarter, err = survey.ParseQuarter(f.quarter); err != nil {
			return in, &usageError{err.Error(), "write for example --quarter 2026Q3"}
		}
	}
	systems := map[string]string{}
	for _, r := range f.roles {
		if systems[r.Name], err = reference(d, "--"+r.systemFlag(), r.system); err != nil {
			return in, err
		}
	}
	shown := shownNames(f.named())
	for _, r := range f.roles {
		files := observed.Files{System: systems[r.Name]}
		for _, name := range r.files() {
			source, err := fileSource(d, name)
			if err != nil {
				return in, err
			}
			source.Name, shown = shown[0], shown[1:]
			files.Sources = append(files.Sources, source)
		}
		in.Of[r.Name] = files
	}
	return in, nil
}

// maxReferenceBytes is the most that is read of a reference system's definition. Our choice: far more
// than the longest one.
const maxReferenceBytes = 1 << 20

// reference returns the definition that a flag gives: the content of a file, or the text itself. It has
// been checked.
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

// splitLayer splits the name of an input into file and layer. If there is no file of that name, the
// part after the last colon is taken as the layer.
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

// fileSource returns a source for a file, after checking that it can be opened.
func fileSource(d disk.Disk, named string) (format.Source, error) {
	name, layer := splitLayer(d, named) // findings and manifest use the name that the user gave
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

// pathBeside returns the file of the same name with another ending, in lower or upper case.
func pathBeside(d disk.Disk, name, ending string) (string, error) {
	stem := strings.TrimSuffix(name, filepath.Ext(name))
	tries := []string{stem + ending, stem + strings.ToUpper(ending)}
	if ending == ".gpkg-wal" { // SQLite adds it to the full name
		tries = []string{name + "-wal"}
	}
	for _, path := range tries {
		if _, err := d.Stat(path); !errors.Is(err, fs.ErrNotExist) {
			return path, err
		}
	}
	return "", fs.ErrNotExist
}

// size returns the number of bytes of the inputs.
func size(in observed.Inputs) int64 {
	total := int64(0)
	for _, source := range in.Sources() {
		total += source.Size
	}
	return total
}
