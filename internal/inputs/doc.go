// Package inputs floods a reader with spoilt files: it takes good and bad examples, spoils them by chance, and hands them to
// the function that a fuzz target calls too. Go's own fuzzer is guided by coverage but slow; this one is blind but makes
// some ten thousand inputs a second, so that a reader can be given ten million.
//
// It is for tests alone. No other code may import it.
package inputs
