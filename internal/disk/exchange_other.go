//go:build !(darwin || linux)

package disk

// exchange says that the system has no such step.
func exchange(string, string) error { return ErrNoExchange }
