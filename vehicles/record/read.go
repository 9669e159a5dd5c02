package record

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"reflect"
	"regexp"
	"strconv"
	"strings"

	"gopkg.in/yaml.v3"
)

// Limits of a record file. They keep a hostile or broken file from taking all memory or time.
const (
	MaxBytes  = 16 << 20  // size of a file
	MaxValues = 1_000_000 // lines, commas and colons together, which bound the number of values
	MaxDepth  = 64        // nesting of lists and mappings
)

// Read reads a record into the struct that into points at. The file's name is only used in messages.
//
// Where anything is wrong the error is of type [Problems] with all that was found, and into is left as it was. An error of another type
// is a mistake in the program: into is not a pointer to a struct, or its tags are wrong. Read never panics on any data.
func Read(file string, data []byte, into any) error {
	v := reflect.ValueOf(into)
	if v.Kind() != reflect.Pointer || v.IsNil() || v.Elem().Kind() != reflect.Struct {
		return fmt.Errorf("record: Read needs a pointer to a struct, not %T", into)
	}
	if err := CheckType(v.Elem().Type()); err != nil {
		return err
	}
	top, problem := parse(data)
	if problem != nil {
		problem.File = file
		return Problems{*problem}
	}
	d := &decoder{top: top}
	fresh := reflect.New(v.Elem().Type()).Elem()
	d.record(fresh)
	for i := range d.problems {
		d.problems[i].File = file
	}
	if err := d.problems.err(); err != nil {
		return err
	}
	v.Elem().Set(fresh)
	return nil
}

// parse turns a file into the node of its only document.
func parse(data []byte) (top *yaml.Node, problem *Problem) {
	defer func() {
		// The YAML library reports some malformed input by panicking; a file must never be able to end the program.
		if r := recover(); r != nil {
			problem = &Problem{Msg: fmt.Sprintf("cannot be read as YAML: %v", r)}
		}
	}()
	if msg := tooLarge(data); msg != "" {
		return nil, &Problem{Msg: msg}
	}
	dec := yaml.NewDecoder(bytes.NewReader(data))
	var doc, second yaml.Node
	if err := dec.Decode(&doc); err != nil {
		return nil, syntaxProblem(err)
	}
	if err := dec.Decode(&second); !errors.Is(err, io.EOF) {
		if err != nil {
			return nil, syntaxProblem(err)
		}
		return nil, &Problem{Line: second.Line, Column: second.Column, Msg: "a second document starts here; a file holds one record"}
	}
	top = doc.Content[0]
	if depth(top) > MaxDepth {
		return nil, &Problem{Msg: fmt.Sprintf("lists and fields are nested more than %d deep", MaxDepth)}
	}
	return top, nil
}

func tooLarge(data []byte) string {
	if len(data) > MaxBytes {
		return fmt.Sprintf("the file has %d bytes; allowed are %d", len(data), MaxBytes)
	}
	n := 0
	for _, mark := range []byte("\n,:-[{") {
		n += bytes.Count(data, []byte{mark})
	}
	if n > MaxValues {
		return fmt.Sprintf("the file has more than %d values", MaxValues)
	}
	return ""
}

var yamlLine = regexp.MustCompile(`^yaml: (?:line (\d+): )?`)

// grammarError are the messages whose line the YAML library counts from zero.
var grammarError = regexp.MustCompile(`did not find expected (<document start>|node content|'-' indicator|key|',' or '.')$`)

// advice says what the YAML library's messages most often mean.
var advice = []struct{ message, advice string }{
	{"found character that cannot start any token", "lines are indented with blanks, never with tabs, and a text that starts with a sign needs quotes"},
	{"mapping values are not allowed in this context", "look for a second colon in the line, or a line indented too far; a text with a colon needs quotes"},
	{"did not find expected key", "look for a line that is not indented like the fields around it"},
	{"could not find expected ':'", "a field is written as name: value, with a blank after the colon"},
	{"did not find expected '-' indicator", "the entries of a list start with a dash, all indented alike"},
	{"did not find expected ',' or ']'", "a bracket [ is not closed, or a comma is missing"},
	{"did not find expected ',' or '}'", "a brace { is not closed, or a comma is missing"},
	{"did not find expected node content", "a value is missing after a comma, a dash or a bracket"},
	{"found unexpected end of stream", "a quote is not closed"},
	{"found unknown escape character", "in double quotes a backslash must be doubled; single quotes take it as it is"},
	{"control characters are not allowed", "the file must be plain text in UTF-8"},
	{"invalid leading UTF-8 octet", "the file must be plain text in UTF-8"},
	{"invalid trailing UTF-8 octet", "the file must be plain text in UTF-8"},
	{"incomplete UTF-8 octet sequence", "the file must be plain text in UTF-8"},
}

// advised adds advice to a message of the YAML library.
func advised(message string) string {
	for _, a := range advice {
		if strings.Contains(message, a.message) {
			return message + ": " + a.advice
		}
	}
	return message
}

func syntaxProblem(err error) *Problem {
	if errors.Is(err, io.EOF) {
		return &Problem{Msg: "the file is empty"}
	}
	text := err.Error()
	p := &Problem{Msg: "cannot be read as YAML: " + advised(yamlLine.ReplaceAllString(text, ""))}
	if m := yamlLine.FindStringSubmatch(text); m != nil && m[1] != "" {
		p.Line, _ = strconv.Atoi(m[1])
		p.Column = 1
		if grammarError.MatchString(text) {
			p.Line++
		}
	}
	return p
}

// depth is the greatest nesting below n, itself included; it stops counting beyond MaxDepth.
func depth(n *yaml.Node) int {
	type level struct {
		n *yaml.Node
		d int
	}
	deepest, open := 0, []level{{n, 1}}
	for len(open) > 0 && deepest <= MaxDepth {
		at := open[len(open)-1]
		open = open[:len(open)-1]
		deepest = max(deepest, at.d)
		for _, c := range at.n.Content {
			open = append(open, level{c, at.d + 1})
		}
	}
	return deepest
}
