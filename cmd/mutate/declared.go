package main

import (
	"fmt"
	"go/ast"
	"go/token"
	"go/types"
	"strings"
)

// twin is what a declared constant becomes with one change in its declaration.
type twin struct {
	change int
	value  string
}

// twins returns those of the package's declared constants. A constant cannot be switched itself: each of its uses is.
func (t *typed) twins(changes map[int]change) map[types.Object][]twin {
	all := map[types.Object][]twin{}
	for path, f := range t.files {
		ast.Inspect(f, func(n ast.Node) bool {
			d, ok := n.(*ast.GenDecl)
			if !ok || d.Tok != token.CONST {
				return true
			}
			for _, s := range d.Specs {
				spec := s.(*ast.ValueSpec)
				for i, v := range spec.Values {
					if i < len(spec.Names) {
						all[t.info.Defs[spec.Names[i]]] = t.twinsOf(path, spec, v, changes)
					}
				}
			}
			return false
		})
	}
	return all
}

func (t *typed) twinsOf(path string, spec *ast.ValueSpec, value ast.Expr, changes map[int]change) []twin {
	var all []twin
	offset := func(p token.Pos) int { return t.fset.Position(p).Offset }
	from, to := offset(value.Pos()), offset(value.End())
	text := string(t.src[path][from:to])
	for i, c := range changes {
		if at := c.pos.Offset; c.pos.Filename == path && at >= from && at < to {
			changed := text[:at-from] + c.new + text[at-from+len(c.old):]
			if spec.Type != nil {
				changed = string(t.src[path][offset(spec.Type.Pos()):offset(spec.Type.End())]) + "(" + changed + ")"
			}
			all = append(all, twin{i, "(" + changed + ")"})
		}
	}
	return all
}

// uses counts how often each constant is used in the package's files.
func (t *typed) uses() map[types.Object]int {
	n := map[types.Object]int{}
	for _, o := range t.info.Uses {
		n[o]++
	}
	return n
}

// wholly returns the changes of declared constants of which every use can be switched: those that other packages and tests
// may use, too, cannot.
func (t *typed) wholly(changes map[int]change, out map[string]bool) map[types.Object][]twin {
	all, uses := t.twins(changes), t.uses()
	switched := map[types.Object]int{}
	for path := range t.files {
		s := t.switcher(path, nil, all, out)
		s.walk(t.files[path], 0)
		for o, n := range s.used {
			switched[o] += n
		}
	}
	for o := range all {
		if switched[o] != uses[o] || uses[o] == 0 || o.Exported() || t.tests[o.Name()] {
			delete(all, o)
		}
	}
	return all
}

// declared adds to a choice the twins of the constants that an expression uses.
func (s *switcher) declared(e ast.Expr, name, text, choice string) string {
	start := s.offset(e.Pos())
	at := map[types.Object][]int{}
	var order []types.Object
	ast.Inspect(e, func(n ast.Node) bool {
		id, ok := n.(*ast.Ident)
		if o := s.info.Uses[id]; ok && len(s.twins[o]) > 0 {
			if at[o] == nil {
				order = append(order, o)
			}
			at[o] = append(at[o], s.offset(id.Pos())-start)
		}
		return true
	})
	for _, o := range order {
		s.used[o] += len(at[o])
		for _, w := range s.twins[o] {
			changed := text
			for k := len(at[o]) - 1; k >= 0; k-- {
				p := at[o][k]
				changed = changed[:p] + w.value + changed[p+len(o.Name()):]
			}
			choice = fmt.Sprintf("mutateChoice[%s](%d, %s, %s)", name, w.change, changed, choice)
		}
	}
	return choice
}

// lineOf is a place as it stands in the compiler's complaints.
func lineOf(p token.Position) string {
	return fmt.Sprintf("%s:%d", p.Filename[strings.LastIndex(p.Filename, "/")+1:], p.Line)
}
