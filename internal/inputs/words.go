package inputs

// numbers are what is put in the place of a number: no number at all, and numbers at the edges of every range.
var numbers = list(".nan", "NaN", ".inf", "-.inf", "Inf", "-Infinity", "1e308", "-1e308", "1e309", "1e-320", "-0", "0", "-0.0", "-1", "00012", "0x7fffffff",
	"9223372036854775807", "9223372036854775808", "-9223372036854775809", "18446744073709551616", "2147483648", "4294967296", "100000000000000000000000000000",
	"1e999999999", "0.00000000000000000001", "1.7976931348623157e308", "4.9e-324", "999999999", "1,5", "1_000", "٣", "1e", ".", "--1", "+1", "5 mm", "1000000", "1", "2", "90", "359.999999")

// Words that each kind of file gives a meaning to.
var (
	YAMLWords = list("- ", ": ", "\n", "\n  ", "\n    ", "\n\n", "&a ", "*a", "<<: *a", "? ", "!!binary ", "!!float ", "!!str ", "!<x>", "!!map {}", "|\n  ", ">-\n", "# ", "---\n", "...\n", "%YAML 9.9\n",
		"[", "]", "{", "}", "[]", "{}", ", ", "\"", "'", "\\u0000", "\x00", "\ufeff", "\u2028", "\xff", "\t", "\r\n", "\r", "~", "null", "true", "no", "=", "2001-01-01", "0o7", "../", "/etc/passwd", "C:\\", "..\\", "a/b", "a b", "é")
	DXFWords = list("0\nSECTION\n", "2\nENTITIES\n", "2\nHEADER\n", "0\nENDSEC\n", "0\nEOF\n", "9\n$INSUNITS\n70\n", "0\nLWPOLYLINE\n", "0\nPOLYLINE\n", "0\nVERTEX\n", "0\nSEQEND\n", "0\nLINE\n", "0\nARC\n", "0\nCIRCLE\n", "0\nELLIPSE\n",
		"0\nSPLINE\n", "0\nINSERT\n", "0\nBLOCK\n", "8\na\n", "90\n4\n", "70\n1\n", "10\n", "20\n", "40\n", "42\n", "50\n", "51\n", "42\n1e9\n", "42\n1\n", "999\n", "\n", "\r\n", "AutoCAD Binary DXF\r\n\x1a\x00", "\x00", "\xff")
	SVGWords = list("M", "m", "L", "l", "H", "h", "V", "v", "C", "c", "S", "s", "Q", "q", "T", "t", "A", "a", "Z", "z", " ", ",", "-", "00", "01", "11", ".5.5", "e", "<svg>", "</svg>", "<path d=\"", "\"/>", "<!--", "-->", "<![CDATA[", "]]>",
		"<!DOCTYPE a [<!ENTITY b \"c\">]>", "&b;", "&#0;", "&#x10ffff;", "<?xml version=\"1.0\" encoding=\"utf-7\"?>", "transform=\"", "\x00", "\xff")
	CSVWords     = list(",", ";", "\t", "\"", "\"\"", "\n", "\r\n", "\r", "\ufeff", "\x00", "\xff", "yes", "no", "2026-01-02", "2026-13-45", " ", "'", "=1+1", "é", "X,Y,a,b\n", "shop_number", "module", "cells_v", "milliohm", "capacity_ah", "refused")
	JSONWords    = list("{", "}", "[", "]", ",", ":", "\"", "\\", "\\ud800", "null", "true", "false", "[[", "]]", "{}", "[]", "\n", " ", "\x00", "\xff", "\"kind\":", "\"batch\"", "\"edits\":", "\"before\":", "\"after\":", "\"index\":")
	PictureWords = list("\x89PNG\r\n\x1a\n", "IHDR", "IDAT", "IEND", "PLTE", "tRNS", "\xff\xd8", "\xff\xd9", "\xff\xc0", "\xff\xc2", "\xff\xc4", "\xff\xda", "\xff\xdb", "\xff\xdd", "\x00\x00\x00\x00", "\xff\xff\xff\xff", "\x7f\xff\xff\xff", "\x00\x01", "GIF89a", "RIFF", "BM")
)

func list(words ...string) [][]byte {
	out := make([][]byte, len(words))
	for i, w := range words {
		out[i] = []byte(w)
	}
	return out
}
