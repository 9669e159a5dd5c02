package ui

import (
	"context"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"github.com/golang/geo/r2"

	"stowbay/layout/drawing"
	"stowbay/layout/search"
)

// A click on a point of the scatter ticks the arrangement that it stands for, and a ring is drawn about it; another click
// takes the tick away; a click beside all points does nothing.
func TestPointsOfTheScatterAreClicked(t *testing.T) {
	w, _ := testWindow(t)
	r, err := search.Run(context.Background(), w.model.Document().Plan(), w.model.Arrangement(), w.model.Library(), search.Options{Modules: []string{"nmc-355"}, PackLimit: 200 * time.Millisecond}, nil)
	if err != nil || len(r.Found) < 2 {
		t.Fatalf("%d found, %v", len(r.Found), err)
	}
	f := w.findsOf(&r)
	f.scatter.generate(900, 600)
	want, at := "", fyne.PointEvent{}
	for _, it := range f.scatter.list.Items { // of points that lie on one another the first is taken
		if s, ok := it.(drawing.Stroke); ok && s.Of.Ref != "" {
			px := f.scatter.cam.ToPx(r2.RectFromPoints(s.Points...).Center())
			want, at.Position = s.Of.Ref, fyne.NewPos(float32(px.X/f.scatter.scale), float32(px.Y/f.scatter.scale))
			break
		}
	}
	items := len(f.scatter.list.Items)
	f.scatter.Tapped(&at)
	if picked := f.picked(); len(picked) != 1 || r.Found[picked[0]].Name() != want {
		t.Fatalf("ticked %v, not %s", picked, want)
	}
	if len(f.scatter.list.Items) <= items {
		t.Error("nothing shows in the scatter that it is ticked")
	}
	f.scatter.Tapped(&at)
	f.scatter.Tapped(&fyne.PointEvent{Position: fyne.NewPos(2, 2)})
	if picked := f.picked(); len(picked) != 0 {
		t.Errorf("still ticked: %v", picked)
	}
}
