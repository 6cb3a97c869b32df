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

// methods and classes are the known words by what known looks them up by.
var methods, classes = byFolded(Methods()), byFolded(FormulationClasses())

// Methods returns the methods that are known by name [C].
func Methods() []string {
	return []string{FoliarSpray, CutStump, Injection, BasalBark, HandPull, Digging, Cutting, Mowing, Covering}
}

// FormulationClasses returns the classes that are known by name.
func FormulationClasses() []string { return []string{AquaticLabelled, General, NoFormulation} }

// ParseMethod returns the known method that text is, whatever its case and
// whether its words are joined by blanks, dashes or underscores; else the text.
func ParseMethod(text string) (string, bool) { return known(methods, text) }

// ParseFormulationClass returns the known class that text is, as ParseMethod does.
func ParseFormulationClass(text string) (string, bool) { return known(classes, text) }

// byFolded returns the words of a list by themselves and by folded.
func byFolded(list []string) map[string]string {
	words := map[string]string{}
	for _, word := range list {
		words[word], words[folded(word)] = word, word
	}
	return words
}

// known returns the word that text is, by folded, else the text.
func known(words map[string]string, text string) (string, bool) {
	if word, ok := words[text]; ok {
		return word, true
	}
	if word, ok := words[folded(text)]; ok {
		return word, true
	}
	return text, false
}

// folded keeps a text's words, in small letters.
func folded(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return strings.ContainsRune(" _-", r) }), " ")
}

// Prefix begins the columns of control work in files.
const Prefix = "work_done_"

// Split is a word that acres treated are split by, and how columns name it.
type Split struct{ Word, Column string }

// ByMethod and ByClass are what acres treated are split by; the last two of each
// are for other words and for none.
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

// Acres returns the column of acres treated of the word.
func (s Split) Acres() string { return Prefix + s.Column + "_acres" }

// Label returns the word as people read it.
func (s Split) Label() string {
	switch s.Word {
	case General:
		return "general formulation"
	case NoFormulation:
		return "without a formulation"
	}
	return s.Word
}
