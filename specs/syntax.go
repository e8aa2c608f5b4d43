package specs

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"
	"unicode/utf8"

	"gopkg.in/yaml.v3"
)

// Bounds on what is read, far above any real circuit.
const (
	maxFile   = 1 << 19 // bytes of a file
	maxNested = 24      // levels of mappings and lists
	maxKeys   = 64      // keys of a section
)

// MaxFile is how many bytes of a file are read at most.
const MaxFile = maxFile

// parse makes nodes of the text, or says why it cannot. It returns nil where
// there is nothing to read.
func (r *reader) parse() *yaml.Node {
	if at, message := r.unreadable(); message != "" {
		r.add(Problem{Rule: ruleSyntax, At: at, Message: message})
		return nil
	}
	root, err := r.parseYAML()
	if err != nil {
		r.add(r.syntaxError(err))
		return nil
	}
	if root == nil || len(root.Content) == 0 || isNull(root.Content[0]) {
		r.add(Problem{Rule: ruleEmpty, At: r.firstLine(), Message: "the file is empty"})
		return nil
	}
	if !r.vet(root.Content[0], 0) {
		return nil
	}
	return root.Content[0]
}

// firstLine is where a problem of the whole file points.
func (r *reader) firstLine() Span {
	return Span{File: r.src.file, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
}

// unreadable looks for what is no YAML at all, before the parser is asked.
func (r *reader) unreadable() (Span, string) {
	text := r.src.text
	if len(text) > maxFile {
		return r.firstLine(), fmt.Sprintf("the file has more than %d KiB, the most that is read; a circuit needs a few", maxFile>>10)
	}
	if bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) {
		return r.firstLine(), "the file is UTF-16; save it as UTF-8"
	}
	at := 0
	if bytes.HasPrefix(text, []byte(bom)) {
		at = len(bom)
	}
	for at < len(text) {
		c := text[at]
		if c >= ' ' && c < 0x7f || c == '\n' || c == '\t' {
			at++
			continue
		}
		length, message := oddity(text[at:])
		if message != "" {
			return r.oneCharacter(at), message
		}
		at += length
	}
	return Span{}, ""
}

// oddity judges a character that is not plain ASCII, and gives its length.
func oddity(text []byte) (int, string) {
	c, length := utf8.DecodeRune(text)
	switch {
	case c == utf8.RuneError && length <= 1:
		return 1, fmt.Sprintf("byte 0x%02X is not UTF-8; save the file as UTF-8", text[0])
	case c == '\r' && len(text) > 1 && text[1] == '\n':
		return 2, ""
	case c == '\r':
		return 1, "a carriage return without a line feed; end lines with one or both"
	case c < ' ' || c >= 0x7f && c <= 0x9f:
		return length, fmt.Sprintf("control character U+%04X; remove it", c)
	case c == '\u2028' || c == '\u2029' || c == '\ufeff' || c == '\ufffe' || c == '\uffff':
		return length, fmt.Sprintf("character U+%04X, which cannot be seen; remove it", c)
	}
	return length, ""
}

func (r *reader) oneCharacter(offset int) Span {
	line, column := r.src.place(1, offset)
	return Span{File: r.src.file, Line: line, Column: column, EndLine: line, EndColumn: column + 1}
}

// A syntaxMark is where yaml.v3 stopped, and why.
type syntaxMark struct {
	problem, context           string
	line, column               int // of the problem, from 1; 0 when not known
	contextLine, contextColumn int // where the construct begins that it is in
}

// parseYAML runs yaml.v3, whose errors and panics both come back as an error.
func (r *reader) parseYAML() (root *yaml.Node, err error) {
	decoder := yaml.NewDecoder(bytes.NewReader(r.src.text))
	defer func() {
		if failure := recover(); failure != nil {
			root, err = nil, fmt.Errorf("%v", failure)
		}
		if err != nil {
			r.stopped = marksOf(decoder)
		}
	}()
	root = new(yaml.Node)
	switch err := decoder.Decode(root); {
	case errors.Is(err, io.EOF):
		return nil, nil
	case err != nil:
		return nil, err
	}
	var second yaml.Node
	switch err := decoder.Decode(&second); {
	case errors.Is(err, io.EOF):
	case err != nil:
		return nil, err
	default:
		r.add(Problem{Rule: ruleSyntax, At: r.oneCharacter(r.src.find(second.Line, second.Column)),
			Message: "a second document begins here; a file holds one"})
	}
	return root, nil
}

// marksOf reads where the parser stands from its own fields: the text of its
// errors tells a line that is off by one where a mistake is found by the parser
// and not by the scanner, and of the beginning of a construct where it has one.
// Fields that are not there leave zeros; a test notices.
func marksOf(decoder *yaml.Decoder) (m syntaxMark) {
	defer func() { _ = recover() }()
	outer := reflect.ValueOf(decoder).Elem().FieldByName("parser").Elem()
	parser := outer.FieldByName("parser")
	mark := func(v reflect.Value) (line, column int) {
		return int(v.FieldByName("line").Int()) + 1, int(v.FieldByName("column").Int()) + 1
	}
	if parser.FieldByName("error").Int() == 0 {
		m.line, m.column = mark(outer.FieldByName("event").FieldByName("start_mark"))
		return m
	}
	m.problem = parser.FieldByName("problem").String()
	m.context = parser.FieldByName("context").String()
	m.line, m.column = mark(parser.FieldByName("problem_mark"))
	m.contextLine, m.contextColumn = mark(parser.FieldByName("context_mark"))
	return m
}

// syntaxError tells what yaml.v3 complains about in plain words.
func (r *reader) syntaxError(err error) Problem {
	m := r.stopped
	p := Problem{Rule: ruleSyntax, At: r.firstLine()}
	switch {
	case m.fromContext():
		p.At = r.oneCharacter(r.src.find(m.contextLine, m.contextColumn))
	case m.line > 0:
		p.At = r.oneCharacter(r.src.find(m.line, m.column))
	}
	p.Message = r.plainWords(m, strings.TrimPrefix(err.Error(), "yaml: "))
	return p
}

// fromContext tells whether the mistake is where the construct begins, and not
// where the parser gave up.
func (m syntaxMark) fromContext() bool {
	return m.contextLine > 0 && (strings.Contains(m.problem, "could not find expected ':'") ||
		strings.Contains(m.problem, "unexpected end of stream") && strings.Contains(m.context, "quoted"))
}

// plainWords says of the parser's complaint what is wrong and what would be right.
func (r *reader) plainWords(m syntaxMark, text string) string {
	opened := fmt.Sprintf("line %d", m.contextLine)
	switch {
	case strings.Contains(m.problem, "cannot start any token"):
		return cannotStart(r.src.text[r.src.find(m.line, m.column):])
	case strings.Contains(m.problem, "mapping values are not allowed"):
		return "a second colon on this line, or wrong indentation; put a text that holds a colon in quotes"
	case strings.Contains(m.problem, "could not find expected ':'"):
		return "a colon is missing behind this; write key: value"
	case strings.Contains(m.problem, "',' or ']'"):
		return fmt.Sprintf("the list that opens with [ on %s goes wrong here; a comma or the closing ] is missing", opened)
	case strings.Contains(m.problem, "',' or '}'"):
		return fmt.Sprintf("the mapping that opens with { on %s goes wrong here; a comma or the closing } is missing", opened)
	case strings.Contains(m.problem, "did not find expected key"):
		return fmt.Sprintf("this does not fit the mapping that begins on %s; its keys must begin in one column, each value end with its line", opened)
	case strings.Contains(m.problem, "did not find expected '-' indicator"):
		return fmt.Sprintf("this does not fit the list that begins on %s; its entries must begin with - in one column", opened)
	case strings.Contains(m.problem, "block sequence entries are not allowed"):
		return "a list cannot begin here; put its first - on a line of its own below the key"
	case strings.Contains(m.problem, "unexpected end of stream") && strings.Contains(m.context, "quoted"):
		return "these quotes are not closed"
	case strings.Contains(m.problem, "node content") && r.src.find(m.line, m.column) == len(r.src.text):
		return "the file ends here, but a [ or { is still open"
	case strings.Contains(m.problem, "unknown escape character"):
		return "a backslash within double quotes has a meaning of its own, and not this one; use single quotes"
	case strings.Contains(m.problem, "exceeded max depth"):
		return fmt.Sprintf("nested more than %d levels deep", maxNested)
	case strings.Contains(m.problem, "did not find expected node content"):
		return "a value is missing here"
	case strings.Contains(m.problem, "found a tab character"):
		return "a tab indents this line; YAML wants spaces"
	case strings.Contains(text, "unknown anchor"):
		return "an alias (*name) of something that does not exist; write the value out, in quotes if it begins with *"
	}
	return "this is not YAML: " + text
}

func cannotStart(text []byte) string {
	switch {
	case len(text) > 0 && text[0] == '\t':
		return "a tab indents this line; YAML wants spaces"
	case len(text) > 0:
		return fmt.Sprintf("a text that begins with %c must stand in quotes", text[0])
	}
	return "a value is missing here"
}

// vet refuses what YAML can do and a spec must not: aliases, anchors, tags,
// merge keys, and nesting without end. It tells whether the rest can be read.
func (r *reader) vet(n *yaml.Node, depth int) bool {
	if depth > maxNested {
		r.add(Problem{Rule: ruleSyntax, At: Span{File: r.src.file, Line: n.Line, Column: n.Column, EndLine: n.Line, EndColumn: n.Column + 1},
			Message: fmt.Sprintf("nested more than %d levels deep", maxNested)})
		return false
	}
	fine := true
	if message := beyond(n); message != "" {
		r.add(Problem{Rule: ruleSyntax, At: r.property(n), Message: message})
		fine = n.Kind != yaml.AliasNode
	}
	for _, child := range n.Content {
		fine = r.vet(child, depth+1) && fine
		if r.full() {
			return false
		}
	}
	return fine
}

// beyond says what of a node is beyond the format.
func beyond(n *yaml.Node) string {
	switch {
	case n.Kind == yaml.AliasNode:
		return fmt.Sprintf("an alias (*%s); write the value out", n.Value)
	case n.Anchor != "":
		return fmt.Sprintf("an anchor (&%s); write each value out where it belongs", n.Anchor)
	case n.Style&yaml.TaggedStyle != 0:
		return fmt.Sprintf("a tag (%s); values need none here", n.Tag)
	case n.Tag == "!!merge":
		return "a merge key (<<); write the values out"
	}
	return ""
}

// property is the place of a node's anchor, tag or alias.
func (r *reader) property(n *yaml.Node) Span {
	word := n.Value
	switch {
	case n.Kind == yaml.AliasNode:
		word = "*" + n.Value
	case n.Anchor != "":
		word = "&" + n.Anchor
	case n.Style&yaml.TaggedStyle != 0:
		word = n.Tag
	}
	return Span{File: r.src.file, Line: n.Line, Column: n.Column, EndLine: n.Line, EndColumn: n.Column + utf8.RuneCountInString(word)}
}

func isNull(n *yaml.Node) bool { return n.Kind == yaml.ScalarNode && n.Tag == "!!null" }
