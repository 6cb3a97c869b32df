package lineage

// Memory is what a chain remembers of a stand besides how it was last mapped, in
// grains.
type Memory struct {
	Ever    int64 // most infested acres it ever had
	Missing int64 // part of them told not detected and not found again since
	Lost    bool  // found live again after it was not detected, and not treated since
}
