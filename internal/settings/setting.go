package settings

// Origin says where a default comes from.
type Origin string

// The origins.
const (
	Published Origin = "[P]" // from a published source
	Practice  Origin = "[C]" // common practice of the trade, without a source
	Assumed   Origin = "[A]" // our assumption, which outputs that depend on it state
)

// Setting describes one key of the settings file. Its check, its line in the printed settings and its
// row in the reference are all made from this.
type Setting struct {
	Key     string // "stands.join_distance_m"
	Unit    string // blank for a pure number or a word
	Origin  Origin // of the default
	Meaning string // one sentence, lower case, without full stop
	Source  string // where the default comes from, or why it was chosen
	bounds  bounds
	at      func(*Settings) any // pointer to the value
}

// Value returns its value in s, as TOML.
func (d Setting) Value(s *Settings) string { return valueText(d.at(s)) }

// Range describes the allowed values.
func (s Setting) Range() string { return s.bounds.String() }
