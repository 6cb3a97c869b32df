package folder

// ManifestName is the file that marks a folder as one of ours.
const ManifestName = "manifest.json"

// Program is the program name in a manifest.
const Program = "driftreach"

// MaxManifest is the most bytes that are read of a manifest. Our choice: enough for ten thousand files.
const MaxManifest = 4 << 20

// FileSum is one finished file of a folder, as its manifest lists it.
type FileSum struct {
	Name   string `json:"name"`   // relative to the folder, with forward slashes
	SHA256 string `json:"sha256"` // lower-case hexadecimal
	Bytes  int64  `json:"bytes"`
}
