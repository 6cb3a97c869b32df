package batch

import (
	"driftreach/internal/margin"
	"driftreach/internal/observed"
	"driftreach/internal/spill"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Keep moves the records of a quarter to a shelf, if that is on disk. The error is one of the shelf.
func Keep(in *observed.Quarter, shelf *spill.Shelf) error {
	if shelf == nil || !shelf.OnDisk() || in.Records.Kept != nil {
		return nil
	}
	kept := survey.NewKept(func(packed []byte) (survey.Text, error) { return shelf.Put(packed) })
	for i := range in.Records.Listed {
		if err := kept.Add(&in.Records.Listed[i]); err != nil {
			return err
		}
	}
	if err := kept.End(); err != nil {
		return err
	}
	in.Records = survey.Records{Kept: kept}
	return nil
}

// withRecords returns a stand and the records that its members are indices of, which may have no texts.
func (c *computation) withRecords(st *stand.Stand) (*stand.Stand, []survey.Record) {
	if c.in.Records.Kept == nil {
		return st, c.in.Records.Listed
	}
	own := *st
	own.Members = make([]int32, len(st.Members))
	for i := range own.Members {
		own.Members[i] = int32(i)
	}
	return &own, c.in.Records.Kept.Some(st.Members)
}

// marginOf returns the acreage error of a stand. all has no records if they are kept.
func (c *computation) marginOf(st *stand.Stand, all margin.Survey) margin.Stand {
	if c.in.Records.Kept == nil {
		return all.Of(st)
	}
	own, records := c.withRecords(st)
	all.Records, all.Observers = records, ofMembers(all.Observers, st.Members)
	if all.Own != nil {
		all.Own = ofMembers(all.Own, st.Members)
	}
	return all.Of(own)
}

func ofMembers(byRecord, members []int32) []int32 {
	out := make([]int32, len(members))
	for i, m := range members {
		out[i] = byRecord[m]
	}
	return out
}
