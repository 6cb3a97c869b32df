package surveyed

import "strings"

// Method is how ground was surveyed.
type Method uint8

// The methods. Ground without a method was walked.
const (
	Foot Method = iota
	Boat
	Air
	Image
	Methods // number of methods
)

var methodWords = [Methods]string{"foot", "boat", "air", "image"}

// String returns the method's word.
func (m Method) String() string { return methodWords[m] }

// ParseMethod returns the method for a word in the input; ok is false for an unknown word. The words
// besides our own are common practice.
func ParseMethod(word string) (m Method, ok bool) {
	switch strings.ToLower(strings.TrimSpace(word)) {
	case "foot", "on foot", "walk", "walked", "walking", "ground":
		return Foot, true
	case "boat", "by boat", "canoe", "kayak", "raft":
		return Boat, true
	case "air", "by air", "aircraft", "helicopter", "plane", "drone", "uas", "uav", "flown", "aerial":
		return Air, true
	case "image", "imagery", "satellite", "photo", "photograph", "orthophoto":
		return Image, true
	}
	return Foot, false
}

// Bank is the side of a stream that was surveyed, looking downstream.
type Bank uint8

// The banks; zero means both, or not given.
const (
	BothBanks Bank = iota
	LeftBank
	RightBank
)

// ParseBank returns the bank for a word in the input; ok is false for an unknown word.
func ParseBank(word string) (b Bank, ok bool) {
	switch strings.ToLower(strings.TrimSpace(word)) {
	case "both":
		return BothBanks, true
	case "left", "l", "left bank":
		return LeftBank, true
	case "right", "r", "right bank":
		return RightBank, true
	}
	return BothBanks, false
}

// String returns the bank's word.
func (b Bank) String() string { return [...]string{"both", "left", "right"}[b] }
