package lineage

// InfestedAcres returns the exact infested area in grains.
func (k *Known) InfestedAcres() int64 { return k.Infested.Grains() }
