package ui

import (
	"testing"

	"fyne.io/fyne/v2/widget"
)

// Headings of the help stand off from the text above them.
func TestHelpHeadingsStandOff(t *testing.T) {
	text := widget.NewRichTextFromMarkdown("## One\n\na\n\n## Two\n\nb")
	set := spaced(text.Segments)
	for i, s := range set[1:] {
		if h, ok := s.(*widget.TextSegment); ok && h.Text == "Two" {
			if before, ok := set[i].(*widget.TextSegment); !ok || before.Text != "" {
				t.Errorf("before the second heading stands %q", set[i].Textual())
			}
			return
		}
	}
	t.Error("the second heading is gone")
}
