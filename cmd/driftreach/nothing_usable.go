package main

import (
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/intake"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
)

// allRejectedError is an error about an input of which every record was rejected, with the first of
// the findings that say why.
type allRejectedError struct {
	err   error
	first check.Finding
}

// Error says what is missing, and why the first record was rejected.
func (e *allRejectedError) Error() string {
	where := slices.DeleteFunc([]string{e.first.File, e.first.Record, e.first.Field, e.first.Value}, func(s string) bool { return s == "" })
	return fmt.Sprintf("%s; the first rejected: %s: %s; %s", e.err, strings.Join(where, ", "), e.first.Message, e.first.Rule.Remedy)
}

func (e *allRejectedError) Unwrap() error { return e.err }

// usable returns an error if no record of the points counts, or if the streams have no line that does:
// without a line no stand would be in the zone and nothing at risk.
func usable(in *observed.Quarter) error {
	if err := in.Evidence(); err != nil {
		return whyRejected(in, intake.RolePoints, err)
	}
	return linesUsable(in)
}

// linesUsable returns an error if every line of the streams was rejected, or if there is none and no
// water drawn as an area either.
func linesUsable(in *observed.Quarter) error {
	read, rejected, given := 0, 0, ""
	for i := range in.Files {
		if in.Files[i].Role == intake.RoleStreams {
			read, rejected, given = read+in.Files[i].Read, rejected+in.Files[i].Rejected, in.Files[i].Name
		}
	}
	switch {
	case read == 0 && given != "" && len(in.Water) == 0:
		return &inputError{fmt.Errorf("%s has no line: no stand could be in the zone, and nothing at risk", given), "name the file, or the layer of it, that has the stream centerlines"}
	case read == 0 || rejected < read:
		return nil
	}
	return whyRejected(in, intake.RoleStreams, &inputError{
		fmt.Errorf("no line of the streams can be used: all %d were rejected", read), "`driftreach check --findings FILE` lists every record",
	})
}

// whyRejected adds to an error the first finding that rejected a record of the input.
func whyRejected(in *observed.Quarter, role string, err error) error {
	var why []check.Finding
	for _, f := range in.Findings {
		ours := slices.ContainsFunc(in.Files, func(file mapfile.File) bool { return file.Role == role && file.Name == f.File })
		if ours && f.Rule.Severity == check.Error {
			why = append(why, f)
		}
	}
	if len(why) == 0 {
		return err
	}
	check.Sort(why)
	return &allRejectedError{err, why[0]}
}
