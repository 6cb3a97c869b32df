package batch

// syncDir does nothing: Windows has no sync of a folder, and NTFS journals its
// names.
func syncDir(string) error { return nil }
