package observed

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"maps"
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/host"
	"driftreach/internal/intake"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
	"driftreach/internal/spill"
	"driftreach/internal/survey"
)

// ErrAtOnce says that a quarter cannot be read in turn: read it at once, which may give another error.
var ErrAtOnce = errors.New("the records must be read at once")

// InTurn is the records of a quarter as Read and Settle accept them. They are on disk, and come back in
// turn, sorted by id.
type InTurn struct {
	ctx    context.Context
	files  []intake.PointsInTurn
	sorted *spill.Sorter
	block  int                 // records checked at once
	check  *survey.Examiner    // the checks of a batch
	site   *survey.SiteChecker // nil if there is nothing to check against
	gone   map[string]bool     // ids of finds set aside because of later absences
	told   [][]check.Finding   // findings of each file

	dated bool // an accepted record has a date
	count int  // accepted records, before absences are looked at
}

// room is how much is in memory at once. The records do not depend on it.
type room struct {
	run   int // bytes that are sorted
	block int // records that are checked
}

// usual is our choice: runs of 60,000 records, so that 10 million are fewer than 200 runs; and blocks so
// large that checking one costs no more than its records.
var usual = room{8 << 20, 1 << 12}

// ReadInTurn reads and checks the inputs as Read does, but keeps the records on disk. Records and
// findings of the quarter are nil, and of its files only names and sums are those of Read. The error is
// ErrAtOnce, one of the disk, or the context's.
func ReadInTurn(ctx context.Context, in Inputs, s settings.Settings, h host.Host, at spill.Place) (Quarter, *InTurn, error) {
	return readInTurn(ctx, in, s, h, at, usual, true)
}

func readInTurn(ctx context.Context, in Inputs, s settings.Settings, h host.Host, at spill.Place, room room, quiet bool) (Quarter, *InTurn, error) {
	points := in.Of[intake.RolePoints]
	in.Of = maps.Clone(in.Of)
	delete(in.Of, intake.RolePoints)
	if len(in.Of[intake.RoleCorrections].Sources) > 0 { // they may be about any record
		return Quarter{}, nil, ErrAtOnce
	}
	q, err := Read(ctx, in, s, h)
	if err != nil {
		return q, nil, errors.Join(ErrAtOnce, err)
	}
	done := h.Listener().Stage("read points")
	defer done()
	r := &reader{ctx: ctx, settings: s, host: h, inputs: in}
	r.inputs.Of[intake.RolePoints] = points
	given := r.given(intake.Role{Name: intake.RolePoints})
	rules := intake.PointRules(given.Against)
	rules.Quiet = quiet
	t := &InTurn{ctx: ctx, sorted: spill.NewSorter(at, "records", room.run), block: room.block, check: survey.NewExaminer(rules)}
	for _, source := range given.Sources {
		if err := t.read(given, source, quiet); err != nil {
			return q, nil, errors.Join(err, t.sorted.Close())
		}
	}
	if r.out.Centerlines = q.Centerlines; len(q.Centerlines) > 0 {
		site := r.siteOf()
		site.Quiet = quiet
		t.site = survey.NewSiteChecker(site)
	}
	t.addFiles(&q)
	return q, t, nil
}

// read reads one file into the sorter. An error about the file becomes ErrAtOnce.
func (t *InTurn) read(g intake.Given, source format.Source, quiet bool) error {
	options, err := g.Options(source)
	if err != nil {
		return err
	}
	options.Quiet = quiet
	number, at := len(t.files), 0
	var key, value []byte
	var spilled error
	file, told, err := intake.ReadPointsInTurn(source, options, func(records []survey.Record) error {
		t.check.Meet(records)
		for i := range records {
			r := &records[i]
			key = t.key(key[:0], r)
			value = binary.AppendUvarint(binary.AppendUvarint(value[:0], uint64(number)), uint64(at))
			at++
			if spilled = t.sorted.Add(key, r.AppendPacked(value)); spilled != nil {
				return spilled
			}
		}
		return nil
	})
	switch {
	case spilled != nil:
		return spilled
	case err != nil:
		return errors.Join(ErrAtOnce, t.ctx.Err(), err)
	}
	t.files, t.told = append(t.files, file), append(t.told, told)
	return nil
}

// key is what records are sorted by: the id without the "~2", "~3" that make a repeated id unique, and
// the id. All ids that may depend on each other have the first in common.
func (t *InTurn) key(b []byte, r *survey.Record) []byte {
	id := r.ID
	if id == "" {
		id = check.MadeID(r.File, r.Row)
	}
	return append(append(append(b, family(id)...), 0), id...)
}

// family returns an id without the endings "~2", "~3" and so on.
func family(id string) string {
	for {
		rest := strings.TrimRight(id, "0123456789")
		if len(rest) == len(id) || !strings.HasSuffix(rest, "~") {
			return id
		}
		id = rest[:len(rest)-1]
	}
}

// addFiles adds the files of points to those of the quarter, in the order of Read.
func (t *InTurn) addFiles(q *Quarter) {
	var files, parts []mapfile.File
	var reports []intake.File
	for i := range t.files {
		file, its := listed(&t.files[i].File, intake.RolePoints)
		files, parts, reports = append(files, file), append(parts, its...), append(reports, t.files[i].File)
	}
	others := len(q.ColumnReports)
	q.Files = slices.Concat(files, q.Files[:others], parts, q.Files[others:])
	q.ColumnReports = append(reports, q.ColumnReports...)
}

// Each calls yield with every accepted record, sorted by id. It may be called several times. yield must
// not keep the record.
func (t *InTurn) Each(yield func(*survey.Record) error) error {
	t.dated, t.count, t.check = false, 0, t.check.Again()
	return t.each(func(r *survey.Record) error {
		if t.site != nil && !t.site.Accept(r) {
			return nil
		}
		t.count++
		t.dated = t.dated || !r.Begin.IsZero()
		if t.gone[r.ID] {
			return nil
		}
		return yield(r)
	})
}

// each is Each before records are checked against the streams.
func (t *InTurn) each(yield func(*survey.Record) error) error {
	b := block{of: t, yield: yield}
	err := t.sorted.Each(func(key, value []byte) error {
		name := key[:bytes.IndexByte(key, 0)]
		if len(b.records) >= t.block && string(name) != b.family {
			if err := b.check(string(name)); err != nil {
				return err
			}
		}
		if string(name) != b.family {
			b.family = string(name)
		}
		return b.add(value)
	})
	if err == nil {
		err = b.check("")
	}
	return err
}

// block is records that are checked together: all of every family in it.
type block struct {
	of      *InTurn
	yield   func(*survey.Record) error
	finish  []intake.Finisher
	records []survey.Record
	family  string          // of the last record
	late    []survey.Record // accepted, sorted by id, but records of the next block may come before
}

func (b *block) add(value []byte) error {
	file, n := binary.Uvarint(value)
	at, m := binary.Uvarint(value[n:])
	b.records = append(b.records, survey.Record{})
	r := &b.records[len(b.records)-1]
	if err := r.Unpack(value[n+m:]); err != nil {
		return err
	}
	if b.finish == nil {
		b.finish = intake.FinishersOf(b.of.files)
	}
	b.finish[file].Finish(r, int(at))
	return nil
}

// check checks the block and hands on what comes before the family of the next; a blank one comes after
// all.
func (b *block) check(next string) error {
	t := b.of
	if err := t.ctx.Err(); err != nil {
		return err
	}
	records := t.check.Block(b.records)
	kept := records
	if len(b.late) > 0 {
		kept = append(b.late, kept...)
		slices.SortStableFunc(kept, func(a, b survey.Record) int { return strings.Compare(a.ID, b.ID) })
	}
	n := len(kept)
	if next != "" {
		n, _ = slices.BinarySearchFunc(kept, next, func(r survey.Record, id string) int { return strings.Compare(r.ID, id) })
	}
	for i := range kept[:n] {
		if err := b.yield(&kept[i]); err != nil {
			return err
		}
	}
	b.late = slices.Clone(kept[n:])
	b.records, b.finish = records[:0], nil
	clear(records[:cap(records)])
	return nil
}

// Passed lets go of what the records are checked against. Each must not be called after it.
func (t *InTurn) Passed() { t.site, t.gone = nil, nil }

// Evidence returns ErrAtOnce if Quarter.Evidence may have an error. Each must have run.
func (t *InTurn) Evidence() error {
	if t.dated || t.count > 0 && t.check.Aside() == 0 {
		return nil
	}
	return ErrAtOnce
}

// Settle sets finds aside as Quarter.Settle does, with the stands of the batch before if q has one. It
// goes through the records twice if there is control work.
func (t *InTurn) Settle(q *Quarter, s settings.Settings) error {
	if q.Quarter.IsZero() || len(q.Actions) == 0 {
		return nil // without control work no find is set aside
	}
	var known []lineage.Known
	if q.Previous != nil {
		known = q.Previous.Known
	}
	worked, o := q.absences(known, s)
	o.Quiet = true
	some, err := survey.NearWork(t.Each, worked)
	if err != nil {
		return err
	}
	t.gone = map[string]bool{}
	for i := range some {
		if some[i].Detected {
			t.gone[some[i].ID] = true
		}
	}
	for _, r := range survey.SettleAbsences(some, worked, o).Records {
		delete(t.gone, r.ID)
	}
	return nil
}
