package folder

// ManifestName is the file by which a folder is known as ours.
const ManifestName = "manifest.json"

// Program is the name that a manifest carries.
const Program = "driftreach"

// MaxManifest bounds what is read of a manifest, in bytes. Our choice: ten thousand
// files' worth.
const MaxManifest = 4 << 20

// FileSum is one finished file of a folder, and what a manifest answers for of it.
type FileSum struct {
	Name   string `json:"name"`   // from the folder's top, with forward slashes
	SHA256 string `json:"sha256"` // lower-case hexadecimal
	Bytes  int64  `json:"bytes"`
}
