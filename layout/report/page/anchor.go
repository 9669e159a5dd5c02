package page

// Anchor makes the current place a target for links. The first place of a name counts.
func (d *Doc) Anchor(name string) {
	a := d.anchor(name)
	if name == "" || a.set {
		return
	}
	a.set, a.page = true, len(d.pages)
	d.pdf.SetLink(a.link, d.y-2, a.page)
	d.anchors[name] = a
}

// link lays a link to a named place over a field of the current page.
func (d *Doc) link(x, y, w, h float64, name string) {
	if name == "" {
		return
	}
	if _, ok := d.anchors[name]; !ok {
		d.wanted = append(d.wanted, name)
	}
	d.pdf.Link(x, y, w, h, d.anchor(name).link)
}

func (d *Doc) anchor(name string) anchor {
	a, ok := d.anchors[name]
	if !ok && name != "" {
		a.link = d.pdf.AddLink()
		d.anchors[name] = a
	}
	return a
}

// bookmark adds a line to the outline of the document. A level is never more than one below the line before.
func (d *Doc) bookmark(s string, level int) {
	level = min(level, d.level+1)
	d.level = level
	d.font("", bodyPt)
	d.pdf.Bookmark(clean(s), level, d.y-2)
}
