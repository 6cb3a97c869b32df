package treatment

import "strings"

// The words of the method column.
const (
	FoliarSpray = "foliar spray"
	CutStump    = "cut stump"
	Injection   = "injection"
	BasalBark   = "basal bark"
	HandPull    = "hand pull"
	Digging     = "digging"
	Cutting     = "cutting"
	Mowing      = "mowing"
	Covering    = "covering"
)

// The words of the formulation_class column.
const (
	AquaticLabelled = "aquatic-labelled" // a product whose label allows use at water
	General         = "general"          // any other product
	NoFormulation   = "none"             // nothing was applied
)

// methods and classes are the known words, indexed by their folded form.
var methods, classes = byFolded(Methods()), byFolded(FormulationClasses())

// Methods returns the known methods [C].
func Methods() []string {
	return []string{FoliarSpray, CutStump, Injection, BasalBark, HandPull, Digging, Cutting, Mowing, Covering}
}

// FormulationClasses returns the known formulation classes.
func FormulationClasses() []string { return []string{AquaticLabelled, General, NoFormulation} }

// ParseMethod returns the known method for a text, ignoring case and whether words are joined by
// blanks, dashes or underscores; for an unknown one, the text itself.
func ParseMethod(text string) (string, bool) { return known(methods, text) }

// ParseFormulationClass returns the known class for a text, in the same way as ParseMethod.
func ParseFormulationClass(text string) (string, bool) { return known(classes, text) }

// byFolded returns the words of a list, indexed by their folded form.
func byFolded(list []string) map[string]string {
	words := map[string]string{}
	for _, word := range list {
		words[word], words[folded(word)] = word, word
	}
	return words
}

// known returns the word with the same folded form as text, or else the text.
func known(words map[string]string, text string) (string, bool) {
	if word, ok := words[text]; ok {
		return word, true
	}
	if word, ok := words[folded(text)]; ok {
		return word, true
	}
	return text, false
}

// folded keeps the words of a text in lower case.
func folded(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return strings.ContainsRune(" _-", r) }), " ")
}

// Prefix begins the columns of control work in files.
const Prefix = "work_done_"

// Split is a word by which treated acres are split, and its name in column headers.
type Split struct{ Word, Column string }

// ByMethod and ByClass are the words by which treated acres are split; the last two of each are for
// other words and for none.
var (
	ByMethod = [...]Split{
		{FoliarSpray, "foliar_spray"}, {CutStump, "cut_stump"}, {Injection, "injection"}, {BasalBark, "basal_bark"},
		{HandPull, "hand_pull"}, {Digging, "digging"}, {Cutting, "cutting"}, {Mowing, "mowing"}, {Covering, "covering"},
		{"another method", "other_method"}, {"no method entered", "no_method"},
	}
	ByClass = [...]Split{
		{AquaticLabelled, "aquatic_labelled"}, {General, "general"}, {NoFormulation, "no_formulation"},
		{"another class", "other_class"}, {"no class entered", "no_class"},
	}
)

// Acres returns the column of treated acres for the word.
func (s Split) Acres() string { return Prefix + s.Column + "_acres" }

// Label returns the word as readers see it.
func (s Split) Label() string {
	switch s.Word {
	case General:
		return "general formulation"
	case NoFormulation:
		return "without a formulation"
	}
	return s.Word
}
