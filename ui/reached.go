package ui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"stowbay/ui/view"
)

// rowList is a list of which one row is chosen: by the arrows while it has the keyboard. Other keys go to the dialog.
type rowList struct {
	widget.List
	at int
}

func newRowList(names []string, chosen func(i int)) *rowList {
	l := &rowList{at: -1}
	l.Length = func() int { return len(names) }
	l.CreateItem = func() fyne.CanvasObject { return widget.NewLabel("") }
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) { o.(*widget.Label).SetText(names[i]) }
	l.OnSelected = func(i widget.ListItemID) { l.at = i; chosen(i) }
	l.ExtendBaseWidget(l)
	return l
}

// TypedKey implements [fyne.Focusable].
func (l *rowList) TypedKey(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyUp:
		l.Select(max(l.at-1, 0))
	case fyne.KeyDown:
		l.Select(min(l.at+1, l.Length()-1))
	default:
		handOn(l, e)
	}
}

// handedSlider is a slider that leaves the keyboard to its dialog.
type handedSlider struct{ widget.Slider }

func newHandedSlider(lo, hi float64) *handedSlider {
	s := &handedSlider{}
	s.Min, s.Max, s.Step, s.Value = lo, hi, 1, lo
	s.ExtendBaseWidget(s)
	return s
}

// TypedKey implements [fyne.Focusable].
func (s *handedSlider) TypedKey(e *fyne.KeyEvent) { handOn(s, e) }

// reached gives a key that nothing else took to what stands in the dialog in front: left and right go through its tabs, up and
// down through the rows of its page or scroll it.
func (w *Window) reached(k fyne.KeyName) bool {
	body := w.frontBody()
	if body == nil {
		return false
	}
	var tabs *container.AppTabs
	var page *pagePane
	walk(body.Objects[contentAt], func(o fyne.CanvasObject) bool {
		switch v := o.(type) {
		case *container.AppTabs:
			tabs = v
		case *pagePane:
			page = v
		}
		return page == nil
	})
	if tabs != nil && (k == fyne.KeyLeft || k == fyne.KeyRight) {
		by := 1
		if k == fyne.KeyLeft {
			by = -1
		}
		tabs.SelectIndex(min(max(tabs.SelectedIndex()+by, 0), len(tabs.Items)-1))
		return true
	}
	return page != nil && (page.rowKey(k) || page.key(k))
}

// rowKey goes through the rows of a page that can be clicked, and clicks the one come to by Return or the space bar.
func (p *pagePane) rowKey(k fyne.KeyName) bool {
	if p.click == nil || p.page == nil {
		return false
	}
	at, rows := -1, p.stops()
	for i, r := range rows {
		if r.Key == p.cursor {
			at = i
		}
	}
	switch {
	case (returns(k) || k == fyne.KeySpace) && at >= 0:
		p.click(p.cursor)
		return true
	case k == fyne.KeyDown && len(rows) > 0:
		at = min(at+1, len(rows)-1)
	case k == fyne.KeyUp && len(rows) > 0:
		at = max(at-1, 0)
	default:
		return false
	}
	p.cursor, p.over = rows[at].Key, rows[at]
	p.w.model.Say(rows[at].Tip)
	p.reveal(p.cursor)
	return true
}

// stops are the rows of a page that can be clicked, each once.
func (p *pagePane) stops() []view.Row {
	seen := map[string]bool{}
	var out []view.Row
	for _, r := range p.page.Rows {
		if r.Key != "" && !seen[r.Key] {
			seen[r.Key] = true
			out = append(out, r)
		}
	}
	return out
}
