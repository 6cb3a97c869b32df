package lineage

// InfestedAcres returns the infested area, exact, in grains.
func (k *Known) InfestedAcres() int64 { return k.Infested.Grains() }
