package earlier

import (
	"bytes"
	"encoding/json"
	"errors"
)

// eachProperty passes each name and value of a flat object to use, as our layers write them: the name
// without quotation marks, the value as written. The slices are valid until the text changes.
func eachProperty(text []byte, use func(name, value []byte) error) error {
	s := propertyScanner{text: text}
	if !s.take('{') {
		return errors.New(unreadableFeature)
	}
	if s.take('}') {
		return s.end()
	}
	for {
		name := s.string()
		if name == nil || !s.take(':') {
			return errors.New(unreadableFeature)
		}
		value := s.value()
		if value == nil {
			return errors.New(unreadableFeature)
		}
		if bytes.IndexByte(name, '\\') >= 0 {
			plain, err := textOf(name)
			if err != nil {
				return err
			}
			name = []byte(`"` + plain + `"`)
		}
		if err := use(name[1:len(name)-1], value); err != nil {
			return err
		}
		if s.take('}') {
			return s.end()
		}
		if !s.take(',') {
			return errors.New(unreadableFeature)
		}
	}
}

// textOf returns the text of a string value; blank for any other.
func textOf(value []byte) (string, error) {
	if len(value) < 2 || value[0] != '"' {
		return "", nil
	}
	if bytes.IndexByte(value, '\\') < 0 {
		return string(value[1 : len(value)-1]), nil
	}
	var text string
	if err := json.Unmarshal(value, &text); err != nil {
		return "", errors.New(unreadableFeature)
	}
	return text, nil
}

// propertyScanner scans the text of an object without white space.
type propertyScanner struct {
	text []byte
	at   int
}

func (s *propertyScanner) end() error {
	if s.at != len(s.text) {
		return errors.New(unreadableFeature)
	}
	return nil
}

func (s *propertyScanner) take(b byte) bool {
	if s.at < len(s.text) && s.text[s.at] == b {
		s.at++
		return true
	}
	return false
}

// string returns a string with its quotation marks; nil for none.
func (s *propertyScanner) string() []byte {
	first := s.at
	if !s.take('"') {
		return nil
	}
	for s.at < len(s.text) {
		switch s.text[s.at] {
		case '\\':
			s.at++
		case '"':
			s.at++
			return s.text[first:s.at]
		}
		s.at++
	}
	return nil
}

// value returns a value as written; nil for none.
func (s *propertyScanner) value() []byte {
	first, depth := s.at, 0
	for s.at < len(s.text) {
		switch b := s.text[s.at]; {
		case b == '"':
			if s.string() == nil {
				return nil
			}
			continue
		case b == '[' || b == '{':
			depth++
		case (b == ']' || b == '}') && depth > 0:
			depth--
		case (b == ',' || b == '}') && depth == 0:
			if s.at == first {
				return nil
			}
			return s.text[first:s.at]
		}
		s.at++
	}
	return nil
}
