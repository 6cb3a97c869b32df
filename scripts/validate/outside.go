package main

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
)

// outside runs external programs on the file: xmllint and GDAL. A program that is not installed
// reports nothing.
func outside(file string, data []byte, features int) []string {
	switch filepath.Ext(file) {
	case ".kml":
		return append(schema(data), gdal(file, features)...)
	case ".kmz":
		doc, err := docKML(data)
		if err != nil {
			return []string{err.Error()}
		}
		return append(schema(doc), gdal(file, features)...)
	case ".geojson":
		return gdal(file, features)
	}
	return nil
}

// docKML returns the first entry of a KMZ.
func docKML(data []byte) ([]byte, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, err
	}
	in, err := z.File[0].Open()
	if err != nil {
		return nil, err
	}
	defer in.Close()
	return io.ReadAll(in)
}

// schema validates a document against the schema that comes with the library.
func schema(doc []byte) []string {
	dir, err := os.MkdirTemp("", "validate")
	if err != nil {
		return []string{err.Error()}
	}
	defer os.RemoveAll(dir)
	if err := laySchema(dir); err != nil {
		return []string{err.Error()}
	}
	file := filepath.Join(dir, "doc.kml")
	if err := os.WriteFile(file, doc, 0o644); err != nil {
		return []string{err.Error()}
	}
	return said(exec.Command("xmllint", "--nonet", "--noout", "--schema", filepath.Join(dir, "ogckml22.xsd"), file))
}

// laySchema copies the schema and this project's stubs into one folder.
func laySchema(dir string) error {
	module, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/twpayne/go-kml/v3").Output()
	if err != nil {
		return err
	}
	for name, from := range map[string]string{
		"ogckml22.xsd":         filepath.Join(strings.TrimSpace(string(module)), "xsd"),
		"xAL.xsd":              filepath.Join("testdata", "xsd"),
		"atom-author-link.xsd": filepath.Join("testdata", "xsd"),
	} {
		text, err := os.ReadFile(filepath.Join(from, name))
		if err != nil {
			return err
		}
		text = bytes.Replace(text, []byte("http://docs.oasis-open.org/election/external/xAL.xsd"), []byte("xAL.xsd"), 1)
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o644); err != nil {
			return err
		}
	}
	return nil
}

var featureCount = regexp.MustCompile(`Feature Count: (\d+)`)

// gdal reads every feature with GDAL and compares their number.
func gdal(file string, features int) []string {
	problems := said(exec.Command("ogrinfo", "-al", "-q", file))
	out, err := exec.Command("ogrinfo", "-al", "-so", file).CombinedOutput()
	if err != nil {
		return problems
	}
	sum := 0
	for _, m := range featureCount.FindAllSubmatch(out, -1) {
		n, _ := strconv.Atoi(string(m[1])) // digits only
		sum += n
	}
	if sum != features {
		problems = append(problems, fmt.Sprintf("GDAL sees %d features of %d", sum, features))
	}
	return problems
}

// said returns the complaints of a program; nothing when it is not installed.
func said(c *exec.Cmd) []string {
	if c.Err != nil {
		return nil
	}
	out, err := c.CombinedOutput()
	for line := range strings.Lines(string(out)) {
		if err != nil || strings.HasPrefix(line, "Warning") || strings.HasPrefix(line, "ERROR") {
			return []string{c.Args[0] + ": " + strings.TrimSpace(line)}
		}
	}
	return nil
}
