package intake

import (
	"slices"

	"driftreach/internal/check"
	"driftreach/internal/format"
)

// kind reads a role whose records are of type R, from files of type F.
type kind[F, R any] struct {
	open   func(format.Source, Options) (F, []check.Finding, error)
	of     func(*F) (File, []R)
	check  func([]R, Against) ([]R, []check.Finding)
	file   func(*R) string         // file of a record
	more   func(*R) []string       // other files that a record came from; nil for none
	counts func(*R, Against) bool  // whether an accepted record counts; nil for all. Others are reported and left out
	value  func(*R, string) string // value of a field, as it was understood; blank for none
}

func (k kind[F, R]) read(g Given) (Taken, error) {
	files, findings, err := readFiles(g, k.open)
	if err != nil {
		return Taken{}, err
	}
	parts := make([][]R, len(files))
	out := Taken{Files: make([]File, len(files)), Accepted: make([]int, len(files))}
	for i := range files {
		out.Files[i], parts[i] = k.of(&files[i])
	}
	accepted, told := k.check(concat(parts), g.Against)
	out.Findings = append(findings, told)
	at := map[string]int{}
	for i := range accepted {
		at[k.file(&accepted[i])]++
		if k.more != nil {
			for _, file := range k.more(&accepted[i]) {
				at[file]++
			}
		}
	}
	for i := range out.Files {
		out.Accepted[i] = at[out.Files[i].Name]
	}
	if k.counts != nil {
		accepted = slices.DeleteFunc(accepted, func(r R) bool { return !k.counts(&r, g.Against) })
	}
	out.put = func(h Holder) { *slot[R](h) = accepted }
	return out, nil
}

// values is Role.Values.
func (k kind[F, R]) values(h Holder, file, field string, yield func(string)) {
	all := *slot[R](h)
	for i := range all {
		if k.file(&all[i]) == file {
			yield(k.value(&all[i], field))
		}
	}
}

// digestOf makes the Digest of a role whose records are of type R.
func digestOf[R any](digest func([]R) string) func(Holder) string {
	return func(h Holder) string { return digest(*slot[R](h)) }
}

// slot returns a pointer to the records of a type.
func slot[R any](h Holder) *[]R {
	for _, at := range h.Slots() {
		if records, ok := at.(*[]R); ok {
			return records
		}
	}
	panic("no place for records of this type")
}

// readFiles reads every file of a role.
func readFiles[F any](g Given, open func(format.Source, Options) (F, []check.Finding, error)) ([]F, [][]check.Finding, error) {
	files, findings := make([]F, 0, len(g.Sources)), make([][]check.Finding, 0, len(g.Sources)+1)
	for _, source := range g.Sources {
		options, err := g.Options(source)
		if err != nil {
			return nil, nil, err
		}
		file, told, err := open(source, options)
		if err != nil {
			return nil, nil, err
		}
		files, findings = append(files, file), append(findings, told)
	}
	return files, findings, nil
}

// concat returns the records of all files. The records of a single file are not copied.
func concat[R any](parts [][]R) []R {
	if len(parts) == 1 {
		return parts[0]
	}
	return slices.Concat(parts...)
}
