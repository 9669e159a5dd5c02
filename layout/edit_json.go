package layout

import (
	"bytes"
	"encoding/json"
	"fmt"
)

// editLine is an edit as one line of JSON.
type editLine struct {
	where
	Text    string            `json:"label,omitempty"`
	Changes json.RawMessage   `json:"changes,omitempty"`
	Edits   []json.RawMessage `json:"edits,omitempty"`
	Entries *Build            `json:"entries,omitempty"`
}

// The kinds of line besides the slots'.
const (
	batchKind  = "batch"
	appendKind = "build"
)

// MarshalEdit gives an edit as one line of JSON, without the line's end.
func MarshalEdit(e Edit) ([]byte, error) {
	switch e := e.(type) {
	case *batch:
		line := editLine{where: where{Kind: batchKind}, Text: e.text}
		for _, inner := range e.edits {
			data, err := MarshalEdit(inner)
			if err != nil {
				return nil, err
			}
			line.Edits = append(line.Edits, data)
		}
		return json.Marshal(line)
	case *Append:
		return json.Marshal(editLine{where: where{Kind: appendKind}, Text: e.Text, Entries: &e.Entries})
	case json.Marshaler:
		return e.MarshalJSON()
	}
	return nil, fmt.Errorf("edit %T cannot be written", e)
}

func (e *put[T]) MarshalJSON() ([]byte, error) {
	changes, err := json.Marshal(e.changes)
	if err != nil {
		return nil, err
	}
	return json.Marshal(editLine{where: e.at, Text: e.text, Changes: changes})
}

// UnmarshalEdit reads what MarshalEdit wrote. It is strict and never panics on any data.
func UnmarshalEdit(data []byte) (Edit, error) { return unmarshalEdit(data, 0) }

// maxNesting bounds batches in batches; Together makes none.
const maxNesting = 4

func unmarshalEdit(data []byte, depth int) (Edit, error) {
	var line editLine
	if err := strictJSON(data, &line); err != nil {
		return nil, err
	}
	switch line.Kind {
	case appendKind:
		if line.Entries == nil {
			return nil, fmt.Errorf("edit without entries")
		}
		return &Append{Text: line.Text, Entries: *line.Entries}, nil
	case batchKind:
		return unmarshalBatch(line, depth)
	}
	s, ok := slots[line.Kind]
	if !ok {
		return nil, fmt.Errorf("unknown kind of edit %q", line.Kind)
	}
	return s.decode(line.where, line.Text, line.Changes)
}

func unmarshalBatch(line editLine, depth int) (Edit, error) {
	if depth > maxNesting {
		return nil, fmt.Errorf("edits are nested too deep")
	}
	b := &batch{text: line.Text}
	for _, data := range line.Edits {
		e, err := unmarshalEdit(data, depth+1)
		if err != nil {
			return nil, err
		}
		b.edits = append(b.edits, e)
	}
	return b, nil
}

func (s *slot[T]) decode(at where, text string, changes json.RawMessage) (Edit, error) {
	e := &put[T]{at: at, text: text}
	if err := strictJSON(changes, &e.changes); err != nil {
		return nil, err
	}
	return e, nil
}

func strictJSON(data []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	return d.Decode(into)
}
