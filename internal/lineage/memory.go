package lineage

// Memory is what a chain of batches remembers of a stand besides its last mapping, in grains.
type Memory struct {
	Ever    int64 // largest infested acreage it ever had
	Missing int64 // the part of that reported not detected, and not found again since
	Lost    bool  // found alive again after it was not detected, and not treated since
}
