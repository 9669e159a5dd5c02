package record

// Placed gives problems that were found in the record read from a file their places in it: of the field each one
// names, or of the nearest one on the way to it. They come in the order of the file, cut to a readable number.
func Placed(file string, data []byte, ps []Problem) Problems {
	top, problem := parse(data)
	out := make(Problems, len(ps))
	for i, p := range ps {
		if p.File = file; problem == nil {
			n := locate(top, p.Path)
			p.Line, p.Column = n.Line, n.Column
		}
		out[i] = p
	}
	sorted, _ := out.err().(Problems)
	return sorted
}
