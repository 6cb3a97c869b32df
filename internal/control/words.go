package control

import (
	"slices"
	"strings"
)

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

// Methods returns the methods that are known by name [C].
func Methods() []string {
	return []string{FoliarSpray, CutStump, Injection, BasalBark, HandPull, Digging, Cutting, Mowing, Covering}
}

// FormulationClasses returns the classes that are known by name.
func FormulationClasses() []string { return []string{AquaticLabelled, General, NoFormulation} }

// ParseMethod returns the known method that text is, whatever its case and
// whether its words are joined by blanks, dashes or underscores; else the text.
func ParseMethod(text string) (string, bool) { return known(Methods(), text) }

// ParseFormulationClass returns the known class that text is, as ParseMethod does.
func ParseFormulationClass(text string) (string, bool) { return known(FormulationClasses(), text) }

// known returns the word of a list that text is, by folded, else the text.
func known(list []string, text string) (string, bool) {
	at := slices.IndexFunc(list, func(word string) bool { return folded(word) == folded(text) })
	if at < 0 {
		return text, false
	}
	return list[at], true
}

// folded keeps a text's words, in small letters.
func folded(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return strings.ContainsRune(" _-", r) }), " ")
}
