package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// change is one small fault put into a source file: the text between two offsets replaced by another.
type change struct {
	pos      token.Position
	end      int
	old, new string
	line     string // of the source, without blanks around it
	at       int    // where in that line, from 0
}

func (c change) String() string { return fmt.Sprintf("%s: %s -> %s", c.pos, c.old, c.new) }

// key names the change by what stands around it, so that it outlives changes elsewhere in the file.
func (c change) key() string {
	return fmt.Sprintf("%s@%d %s -> %s in %s", filepath.Base(filepath.Dir(c.pos.Filename))+"/"+filepath.Base(c.pos.Filename), c.at, c.old, c.new, c.line)
}

// readKnown reads the changes that are known to change nothing: a key in a line, the reason in the next, which starts with #.
func readKnown(file string) (map[string]string, error) {
	data, err := os.ReadFile(file)
	if err != nil && !os.IsNotExist(err) {
		return nil, err
	}
	known := map[string]string{}
	key := ""
	for line := range strings.Lines(string(data)) {
		line = strings.TrimSpace(line)
		if reason, ok := strings.CutPrefix(line, "# "); ok && key != "" {
			known[key] = reason
		}
		key = line
	}
	return known, nil
}

// applied returns the source with the fault in it.
func (c change) applied(src []byte) []byte {
	out := append([]byte(nil), src[:c.pos.Offset]...)
	out = append(out, c.new...)
	return append(out, src[c.end:]...)
}

// turned gives for each operator the wrong one put in its place: signs and factors the other way round, comparisons denied.
var turned = map[token.Token]token.Token{
	token.ADD: token.SUB, token.SUB: token.ADD, token.MUL: token.QUO, token.QUO: token.MUL,
	token.ADD_ASSIGN: token.SUB_ASSIGN, token.SUB_ASSIGN: token.ADD_ASSIGN, token.MUL_ASSIGN: token.QUO_ASSIGN, token.QUO_ASSIGN: token.MUL_ASSIGN,
	token.LSS: token.GEQ, token.GEQ: token.LSS, token.GTR: token.LEQ, token.LEQ: token.GTR, token.EQL: token.NEQ, token.NEQ: token.EQL,
}

// changesIn returns the changes to be tried in one file, in the order in which they stand.
func changesIn(file string) ([]change, error) {
	src, err := os.ReadFile(file)
	if err != nil {
		return nil, err
	}
	return changesOf(file, src)
}

func changesOf(name string, src []byte) ([]change, error) {
	fset := token.NewFileSet()
	f, err := parser.ParseFile(fset, name, src, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	s := seeker{fset: fset, src: src}
	ast.Inspect(f, s.visit)
	return s.found, nil
}

// seeker walks a file and notes what can be changed.
type seeker struct {
	fset  *token.FileSet
	src   []byte
	found []change
}

// visit notes the changes at a node. It passes over what holds no formula: sizes handed to make or in bits, indices, shifts, texts and
// numbers returned beside an error or a false, which nobody may use.
func (s *seeker) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.ImportSpec:
		return false
	case *ast.CallExpr:
		if bits(n.Fun) {
			for _, a := range n.Args[:len(n.Args)-1] {
				ast.Inspect(a, s.visit)
			}
			return false
		}
		return !named(n.Fun, "make", "panic") && !infinity(n.Fun)
	case *ast.IndexExpr:
		ast.Inspect(n.X, s.visit)
		return false
	case *ast.ArrayType:
		return false
	case *ast.ReturnStmt:
		return !unused(n)
	case *ast.BinaryExpr:
		if text(n.X) || text(n.Y) || n.Op == token.SHL || n.Op == token.SHR {
			return false
		}
		if !presence(n) {
			s.operator(n.OpPos, n.Op)
		}
	case *ast.AssignStmt:
		s.operator(n.TokPos, n.Tok)
	case *ast.UnaryExpr:
		if n.Op == token.SUB {
			s.note(n.OpPos, "-", "+")
		}
	case *ast.BasicLit:
		s.literal(n)
	}
	return true
}

// unused tells whether a statement returns plain numbers beside something that says that there is no result.
func unused(n *ast.ReturnStmt) bool {
	last := len(n.Results) - 1
	if last < 1 || named(n.Results[last], "nil", "true") {
		return false
	}
	for _, r := range n.Results[:last] {
		if _, plain := r.(*ast.BasicLit); !plain {
			return false
		}
	}
	_, plain := n.Results[last].(*ast.BasicLit)
	return !plain
}

// infinity tells whether a function is math.Inf or math.IsInf, where only the sign of the number counts.
func infinity(e ast.Expr) bool {
	s, ok := e.(*ast.SelectorExpr)
	return ok && named(s.X, "math") && (s.Sel.Name == "Inf" || s.Sel.Name == "IsInf")
}

// bits tells whether a function's last argument is the size of a number in bits, where a larger one means the same.
func bits(e ast.Expr) bool {
	s, ok := e.(*ast.SelectorExpr)
	return ok && named(s.X, "strconv") && (s.Sel.Name == "FormatFloat" || s.Sel.Name == "ParseFloat" || s.Sel.Name == "ParseInt" || s.Sel.Name == "ParseUint")
}

// presence tells whether a comparison only asks whether something is there.
func presence(n *ast.BinaryExpr) bool { return named(n.X, "nil", "err") || named(n.Y, "nil", "err") }

func named(e ast.Expr, names ...string) bool {
	id, ok := e.(*ast.Ident)
	for _, n := range names {
		if ok && id.Name == n {
			return true
		}
	}
	return false
}

// text tells whether an expression is a text, whose + joins.
func text(e ast.Expr) bool {
	switch e := e.(type) {
	case *ast.BasicLit:
		return e.Kind == token.STRING || e.Kind == token.CHAR
	case *ast.BinaryExpr:
		return e.Op == token.ADD && (text(e.X) || text(e.Y))
	}
	return false
}

func (s *seeker) operator(at token.Pos, op token.Token) {
	if to, ok := turned[op]; ok {
		s.note(at, op.String(), to.String())
	}
}

// literal makes a number a tenth larger, or one where it is nought; a whole number, one larger.
func (s *seeker) literal(l *ast.BasicLit) {
	switch l.Kind {
	case token.INT:
		if v, err := strconv.ParseInt(l.Value, 0, 64); err == nil {
			s.note(l.Pos(), l.Value, strconv.FormatInt(v+1, 10))
		}
	case token.FLOAT:
		v, err := strconv.ParseFloat(l.Value, 64)
		if err != nil {
			return
		}
		wrong := 1.0
		if v != 0 {
			wrong = v * 1.1
		}
		s.note(l.Pos(), l.Value, fmt.Sprintf("%#v", wrong))
	}
}

func (s *seeker) note(at token.Pos, old, new string) {
	p := s.fset.Position(at)
	start := p.Offset - p.Column + 1
	line, _, _ := strings.Cut(string(s.src[start:]), "\n")
	indent := len(line) - len(strings.TrimLeft(line, "\t "))
	s.found = append(s.found, change{pos: p, end: p.Offset + len(old), old: old, new: new, line: strings.TrimSpace(line), at: p.Column - 1 - indent})
}
