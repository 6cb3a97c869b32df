package surveyed

import "strings"

// Method is how ground was looked at.
type Method uint8

// The methods. What says nothing of it was walked.
const (
	Foot Method = iota
	Boat
	Air
	Image
	Methods // how many there are
)

var methodWords = [Methods]string{"foot", "boat", "air", "image"}

// String returns the method's word.
func (m Method) String() string { return methodWords[m] }

// ParseMethod returns the method that a word of the input names; not ok for
// another. The words beside our own are common practice.
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

// Bank is the side of a stream that was looked at, looking downstream.
type Bank uint8

// The banks; the zero Bank is both, or nobody said.
const (
	BothBanks Bank = iota
	LeftBank
	RightBank
)

// ParseBank returns the bank that a word of the input names; not ok for another.
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
