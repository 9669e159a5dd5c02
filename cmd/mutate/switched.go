package main

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"sort"
	"strings"
)

// switched writes a file's source so that each of the changes can be switched on by its number while the program runs: it
// stays the same program as long as none is. What cannot be switched (assignments whose left side calls something, what is on
// the lines left out) is left as it is; the numbers of what can be are returned.
func (t *typed) switched(path string, changes map[int]change, twins map[types.Object][]twin, out map[string]bool) (string, []int) {
	s := t.switcher(path, changes, twins, out)
	s.walk(t.files[path], 0)
	return s.written(), s.done
}

// switcher gathers what is put into a file.
type switcher struct {
	*typed
	src     []byte
	at      map[int]int // the change at an offset
	changes map[int]change
	twins   map[types.Object][]twin
	used    map[types.Object]int // how many uses of a constant can be switched
	out     map[string]bool
	edits   []edit
	done    []int
}

func (t *typed) switcher(path string, changes map[int]change, twins map[types.Object][]twin, out map[string]bool) *switcher {
	s := &switcher{typed: t, src: t.src[path], at: map[int]int{}, changes: changes, twins: twins, used: map[types.Object]int{}, out: out}
	for i, c := range changes {
		if c.pos.Filename == path && !out[lineOf(c.pos)] {
			s.at[c.pos.Offset] = i
		}
	}
	return s
}

// edit replaces cut bytes at an offset by a text. At one offset what closes comes before what opens; inner brackets close
// first and outer ones open first.
type edit struct {
	at, cut int
	put     string
	rank    int
}

func (s *switcher) offset(p token.Pos) int { return s.fset.Position(p).Offset }

func (s *switcher) text(n ast.Node) string {
	return string(s.src[s.offset(n.Pos()):s.offset(n.End())])
}

func (s *switcher) open(p token.Pos, cut int, put string, depth int) {
	s.edits = append(s.edits, edit{at: s.offset(p), cut: cut, put: put, rank: depth})
}

func (s *switcher) close(p token.Pos, put string, depth int) {
	s.edits = append(s.edits, edit{at: s.offset(p), put: put, rank: -1_000_000 - depth})
}

// number is that of the change at a place; it is noted as done.
func (s *switcher) number(p token.Pos) (int, bool) {
	i, ok := s.at[s.offset(p)]
	if ok {
		s.done = append(s.done, i)
	}
	return i, ok
}

// walk puts switches into what a node holds.
func (s *switcher) walk(root ast.Node, depth int) {
	ast.Inspect(root, func(n ast.Node) bool {
		if n == nil || n == root {
			return true
		}
		if s.visit(n, depth) {
			s.walk(n, depth+1)
		}
		return false
	})
}

// visit puts in a node's own switch and tells whether what it holds is to be looked at.
func (s *switcher) visit(n ast.Node, depth int) bool {
	if d, ok := n.(*ast.GenDecl); ok && d.Tok == token.CONST {
		return false
	}
	if a, ok := n.(*ast.ArrayType); ok {
		s.walk(a.Elt, depth+1)
		return false
	}
	if e, ok := n.(ast.Expr); ok && s.info.Types[e].Value != nil {
		s.constant(e, depth)
		return false
	}
	switch n := n.(type) {
	case *ast.BinaryExpr:
		s.binary(n, depth)
	case *ast.AssignStmt:
		s.assigned(n, depth)
	case *ast.UnaryExpr:
		if n.Op == token.SUB {
			s.negative(n, depth)
		}
	}
	return true
}

// constant makes a choice of a constant expression and its changed twins, each still worked out by the compiler.
func (s *switcher) constant(e ast.Expr, depth int) {
	text, start := s.text(e), s.offset(e.Pos())
	name, ok := s.typeName(e)
	if !ok || strings.Contains(text, "\n") {
		return
	}
	choice := text
	for _, p := range places(e) {
		if i, ok := s.number(p); ok {
			c := s.changes[i]
			from := c.pos.Offset - start
			choice = fmt.Sprintf("mutateChoice[%s](%d, %s%s%s, %s)", name, i, text[:from], c.new, text[from+len(c.old):], choice)
		}
	}
	if !s.out[lineOf(s.fset.Position(e.Pos()))] {
		choice = s.declared(e, name, text, choice)
	}
	if choice != text {
		s.open(e.Pos(), len(text), choice, depth)
	}
}

// places are those of the numbers and operators in an expression.
func places(e ast.Expr) []token.Pos {
	var all []token.Pos
	ast.Inspect(e, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.BasicLit:
			all = append(all, n.Pos())
		case *ast.BinaryExpr:
			all = append(all, n.OpPos)
		case *ast.UnaryExpr:
			all = append(all, n.OpPos)
		}
		return true
	})
	return all
}

// functions are those that stand for operators.
var functions = map[token.Token]string{
	token.ADD: "mutateSum", token.SUB: "mutateDifference", token.MUL: "mutateProduct", token.QUO: "mutateQuotient",
	token.ADD_ASSIGN: "mutateSum", token.SUB_ASSIGN: "mutateDifference", token.MUL_ASSIGN: "mutateProduct", token.QUO_ASSIGN: "mutateQuotient",
}

func (s *switcher) binary(n *ast.BinaryExpr, depth int) {
	f, sum := functions[n.Op]
	name, number := s.typeName(n)
	if sum && !number {
		return
	}
	i, ok := s.number(n.OpPos)
	switch {
	case !ok:
	case sum:
		s.open(n.Pos(), 0, fmt.Sprintf("%s[%s](%d, ", f, name, i), depth)
		s.open(n.OpPos, len(n.Op.String()), ",", depth)
		s.close(n.End(), ")", depth)
	default:
		s.open(n.Pos(), 0, "((", depth)
		s.close(n.End(), fmt.Sprintf(") != mutateIs(%d))", i), depth)
	}
}

// assigned writes x += y as x = x + y, unless working out x twice would call something.
func (s *switcher) assigned(n *ast.AssignStmt, depth int) {
	f, ok := functions[n.Tok]
	if !ok || calls(n.Lhs[0]) {
		return
	}
	name, ok := s.typeName(n.Lhs[0])
	if !ok {
		return
	}
	if i, ok := s.number(n.TokPos); ok {
		s.open(n.TokPos, len(n.Tok.String()), fmt.Sprintf("= %s[%s](%d, %s, ", f, name, i, s.text(n.Lhs[0])), depth)
		s.close(n.Rhs[0].End(), ")", depth)
	}
}

func (s *switcher) negative(n *ast.UnaryExpr, depth int) {
	name, ok := s.typeName(n)
	if !ok {
		return
	}
	if i, ok := s.number(n.OpPos); ok {
		s.open(n.OpPos, 1, fmt.Sprintf("mutateNegative[%s](%d, ", name, i), depth)
		s.close(n.End(), ")", depth)
	}
}

func calls(e ast.Expr) bool {
	found := false
	ast.Inspect(e, func(n ast.Node) bool {
		_, call := n.(*ast.CallExpr)
		found = found || call
		return !found
	})
	return found
}

// typeName returns how the type of a number or of a truth value is written in the package; false for anything else.
func (s *switcher) typeName(e ast.Expr) (string, bool) {
	t := s.info.Types[e].Type
	if t == nil {
		return "", false
	}
	t = types.Default(t)
	if b, ok := t.Underlying().(*types.Basic); ok && b.Info()&(types.IsNumeric|types.IsBoolean) == 0 {
		return "", false
	}
	return types.TypeString(t, func(p *types.Package) string {
		if p == s.pkg {
			return ""
		}
		return p.Name()
	}), true
}

// joins tells whether a change turns the sign between two texts, which does not compile.
func (t *typed) joins(c change) bool {
	found := false
	ast.Inspect(t.files[c.pos.Filename], func(n ast.Node) bool {
		var e ast.Expr
		at := token.NoPos
		switch n := n.(type) {
		case *ast.BinaryExpr:
			e, at = n.X, n.OpPos
		case *ast.AssignStmt:
			e, at = n.Lhs[0], n.TokPos
		}
		if at == token.NoPos || t.fset.Position(at).Offset != c.pos.Offset {
			return !found
		}
		if b, ok := t.info.Types[e].Type.Underlying().(*types.Basic); ok && strings.HasPrefix(c.old, "+") {
			found = b.Info()&types.IsString != 0
		}
		return false
	})
	return found
}

// written returns the source with the edits in it.
func (s *switcher) written() string {
	sort.SliceStable(s.edits, func(i, j int) bool {
		a, b := s.edits[i], s.edits[j]
		if a.at != b.at {
			return a.at < b.at
		}
		return a.rank < b.rank
	})
	var b strings.Builder
	last := 0
	for _, e := range s.edits {
		b.Write(s.src[last:e.at])
		b.WriteString(e.put)
		last = e.at + e.cut
	}
	b.Write(s.src[last:])
	return b.String()
}
