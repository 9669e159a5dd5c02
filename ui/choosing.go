package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
)

// way is one of the ways on from a question: what its button says and what it does; nil only closes the question.
type way struct {
	name string
	do   func()
}

// choose asks a question with a button for each way on. The last one is set off, and Return takes it; it is to be the one
// by which nothing is lost. Escape closes the question without taking any.
func (w *Window) choose(title, text string, ways ...way) {
	label := widget.NewLabel(text)
	label.Wrapping = fyne.TextWrapWord
	d := dialog.NewCustomWithoutButtons(title, label, w.win)
	var buttons []fyne.CanvasObject
	for i, v := range ways {
		b := newPush(v.name, func() {
			d.Hide()
			if v.do != nil {
				v.do()
			}
		})
		if i == len(ways)-1 {
			b.Importance = widget.HighImportance
		}
		buttons = append(buttons, b)
	}
	d.SetButtons(buttons)
	d.Resize(fyne.NewSize(chooseWidth, label.MinSize().Height))
	w.ask(d)
	d.Resize(fyne.NewSize(chooseWidth, 0)) // as high as the text is once it is wrapped
}

// chooseWidth is how wide a question is.
const chooseWidth = 520
