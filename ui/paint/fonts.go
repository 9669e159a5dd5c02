package paint

import "strings"

// Fonts measures texts in the built-in fonts. It is for one goroutine.
type Fonts struct {
	regular, medium *face
	wrapped         map[wrapping][]string
}

// wrapping is a text broken into lines before.
type wrapping struct {
	s           string
	size, width float64
	bold        bool
}

// maxWrapped is how many broken texts are kept before the store is emptied.
const maxWrapped = 4000

// NewFonts returns the built-in fonts.
func NewFonts() *Fonts {
	return &Fonts{regular: regular(), medium: medium(), wrapped: map[wrapping][]string{}}
}

func (f *Fonts) face(bold bool) *face {
	if bold {
		return f.medium
	}
	return f.regular
}

// Width returns how wide a text is at a size, in the size's unit.
func (f *Fonts) Width(s string, size float64, bold bool) float64 { return f.face(bold).width(s, size) }

// Cut shortens a text with an ellipsis so that it is no wider than given.
func (f *Fonts) Cut(s string, size, width float64, bold bool) string {
	if f.Width(s, size, bold) <= width {
		return s
	}
	r := []rune(strings.TrimSuffix(s, "…"))
	for len(r) > 0 && f.Width(string(r)+"…", size, bold) > width {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " ") + "…"
}

// Wrap breaks a text into lines no wider than given. A word that is wider stands on a line of its own.
// The lines are shared: they must not be changed.
func (f *Fonts) Wrap(s string, size, width float64, bold bool) []string {
	k := wrapping{s, size, width, bold}
	if out, ok := f.wrapped[k]; ok {
		return out
	}
	if len(f.wrapped) > maxWrapped {
		clear(f.wrapped)
	}
	out := f.wrap(s, size, width, bold)
	f.wrapped[k] = out
	return out
}

func (f *Fonts) wrap(s string, size, width float64, bold bool) []string {
	var out []string
	for _, para := range strings.Split(s, "\n") {
		line := ""
		for _, word := range keptTogether(strings.Fields(para)) {
			switch {
			case line == "":
				line = word
			case f.Width(line+" "+word, size, bold) <= width:
				line += " " + word
			default:
				out = append(out, line)
				line = word
			}
		}
		out = append(out, line)
	}
	return out
}

// units are what stands after a number and stays on its line.
var units = map[string]bool{"mm": true, "m": true, "km": true, "in": true, "kg": true, "lb": true, "t": true, "N": true, "kN": true, "V": true, "A": true, "kA": true,
	"W": true, "kW": true, "kWh": true, "Ah": true, "°C": true, "°": true, "%": true, "s": true, "g": true, "mΩ": true, "±": true}

// keptTogether joins numbers with their units and uncertainties, so that no line breaks between them: "1099 ± 3 kg", "12 N m".
func keptTogether(words []string) []string {
	var out []string
	for i, w := range words {
		if i > 0 && belongs(words[i-1], w) {
			out[len(out)-1] += " " + w
			continue
		}
		out = append(out, w)
	}
	return out
}

// belongs tells whether a word goes with the one before.
func belongs(before, w string) bool {
	last := before[len(before)-1]
	bare := strings.TrimRight(w, ".,;:)")
	return before == "±" || units[bare] && last >= '0' && last <= '9' || before == "N" && bare == "m"
}
