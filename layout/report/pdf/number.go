package pdf

import "strconv"

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
