package drawing

import "image/color"

// Seven of the eight colours that people with any of the common colour deficiencies tell apart: M. Okabe and K. Ito,
// Color Universal Design, 2008. The palettes take their hues from here and
// shift lightness; the purple of keep-outs is drawn towards violet, to hold it off the green of bays.
const (
	okabeBlack      = 0x000000
	okabeOrange     = 0xe69f00
	okabeSkyBlue    = 0x56b4e9
	okabeGreen      = 0x009e73
	okabeYellow     = 0xf0e442
	okabeBlue       = 0x0072b2
	okabeVermillion = 0xd55e00
)

// inks are the colours that one palette is made of.
type inks struct {
	paper, ink, soft, faint, grid   color.NRGBA
	zone                            color.NRGBA
	body, wheel, metal, box         color.NRGBA
	module, moduleLine, gear, gearL color.NRGBA
	bay, bayLine                    color.NRGBA
	keepOut, cable, cableText       color.NRGBA
	hose, hoseText, link            color.NRGBA
	plus, plusLine, minus, minusL   color.NRGBA
	breach, warn, accent            color.NRGBA
	mark, markLine, best            color.NRGBA
	shade                           color.NRGBA
}

var lightInks = inks{
	paper: rgb(0xfbfaf6), ink: rgb(0x20252b), soft: rgb(0x565c64), faint: rgb(0x8b9098), grid: rgb(0xe6e3d9),
	zone: rgb(0xb9bbb8),
	body: rgb(0xf1eee5), wheel: rgb(0xd6d3ca), metal: rgb(0xdedacf), box: rgb(0xffffff),
	module: rgb(0xd3e8f6), moduleLine: rgb(okabeBlue), gear: rgb(0xf6ecc4), gearL: rgb(0x6b5600),
	bay: rgba(okabeGreen, 0x18), bayLine: rgb(0x00664a),
	keepOut: rgb(0x8a3a9c), cable: rgb(0xc97b00), cableText: rgb(0x7d4c00),
	hose: rgb(0x2b87bd), hoseText: rgb(0x0a5f8f), link: rgb(0x6d3f1c),
	plus: rgb(okabeVermillion), plusLine: rgb(0x1c0c00), minus: rgb(0xffffff), minusL: rgb(0x00406b),
	breach: rgb(0xb03a00), warn: rgb(0x7a5800), accent: rgb(0x004f9e),
	mark: rgb(okabeSkyBlue), markLine: rgb(okabeBlue), best: rgb(okabeVermillion),
	shade: rgba(0x000000, 0x26),
}

var darkInks = inks{
	paper: rgb(0x15191e), ink: rgb(0xeae7de), soft: rgb(0xb4b9c0), faint: rgb(0x7d848d), grid: rgb(0x262c33),
	zone: rgb(0x4d545c),
	body: rgb(0x1d2329), wheel: rgb(0x333a42), metal: rgb(0x2e353c), box: rgb(0x101418),
	module: rgb(0x17405c), moduleLine: rgb(okabeSkyBlue), gear: rgb(0x47400f), gearL: rgb(okabeYellow),
	bay: rgba(okabeGreen, 0x22), bayLine: rgb(0x35c79c),
	keepOut: rgb(0xdf9cf0), cable: rgb(okabeOrange), cableText: rgb(0xf2b948),
	hose: rgb(okabeSkyBlue), hoseText: rgb(0x8dcdf2), link: rgb(0xd9a679),
	plus: rgb(0xf07a26), plusLine: rgb(0x140800), minus: rgb(0x101418), minusL: rgb(0xa9d8f5),
	breach: rgb(0xff8a4a), warn: rgb(0xf0dc55), accent: rgb(0x7cc7ff),
	mark: rgb(0x1f5f8a), markLine: rgb(okabeSkyBlue), best: rgb(0xff8a4a),
	shade: rgba(0x000000, 0x50),
}

var printInks = inks{
	paper: rgb(0xffffff), ink: rgb(okabeBlack), soft: rgb(0x45494e), faint: rgb(0x85898e), grid: rgb(0xe4e4e4),
	zone: rgb(0xb4b6b8),
	body: rgb(0xf7f6f3), wheel: rgb(0xd8d8d8), metal: rgb(0xe2e0da), box: rgb(0xffffff),
	module: rgb(0xe3f0f9), moduleLine: rgb(okabeBlue), gear: rgb(0xf9f2d3), gearL: rgb(0x5f4c00),
	bay: rgba(okabeGreen, 0x12), bayLine: rgb(0x00583f),
	keepOut: rgb(0x742b88), cable: rgb(0xc97b00), cableText: rgb(0x7d4c00),
	hose: rgb(0x2b87bd), hoseText: rgb(0x0a5f8f), link: rgb(0x5a3315),
	plus: rgb(okabeVermillion), plusLine: rgb(0x140800), minus: rgb(0xffffff), minusL: rgb(0x003a61),
	breach: rgb(0xa83600), warn: rgb(0x6f5000), accent: rgb(0x004f9e),
	mark: rgb(okabeSkyBlue), markLine: rgb(okabeBlue), best: rgb(okabeVermillion),
	shade: rgba(0x000000, 0x20),
}

func newPalette(name string, k inks) *Palette {
	p := &Palette{name: name, paper: k.paper, accent: k.accent, styles: map[Role]Style{}}
	for _, group := range []map[Role]Style{vehicleStyles(k), siteStyles(k), boxStyles(k), readingStyles(k), chartStyles(k)} {
		for role, s := range group {
			p.styles[role] = completed(s, k)
		}
	}
	return p
}

// completed puts in what a style leaves open: text in ink at 8 points, hatches at 5 points.
func completed(s Style, k inks) Style {
	if s.Text.A == 0 {
		s.Text = k.ink
	}
	s.Size, s.Pitch, s.Pt = defaulted(s.Size, 8), defaulted(s.Pitch, 5), defaulted(s.Pt, 0.6)
	return s
}

func vehicleStyles(k inks) map[Role]Style {
	return map[Role]Style{
		RoleBody:      {Fill: k.body, Line: k.soft, Pt: 1},
		RoleWheel:     {Fill: k.wheel, Line: k.soft, Pt: 0.6},
		RoleAxle:      {Line: k.soft, Pt: 0.5, Dash: []float64{9, 2, 1.5, 2}},
		RoleCentre:    {Line: k.soft, Pt: 0.5, Dash: []float64{12, 2.5, 2, 2.5}},
		RoleGround:    {Line: k.soft, Pt: 0.4, Pitch: 4},
		RoleClearance: {Line: k.bayLine, Text: k.bayLine, Pt: 0.8, Dash: []float64{7, 3}},
		RoleGrid:      {Line: k.grid, Pt: 0.25},
		RoleRail:      {Fill: k.metal, Line: k.soft, Pt: 0.5},
		RoleFront:     {Fill: k.ink, Line: k.ink, Pt: 1.4},
	}
}

func siteStyles(k inks) map[Role]Style {
	return map[Role]Style{
		RoleBay:     {Fill: k.bay, Line: k.bayLine, Text: k.bayLine, Pt: 0.9, Dash: []float64{5, 3}},
		RoleKeepOut: {Line: k.keepOut, Text: k.keepOut, Pt: 0.45},
		RoleZone:    {Line: k.zone, Text: k.soft, Pt: 0.35, Dash: []float64{1.5, 2}},
	}
}

func boxStyles(k inks) map[Role]Style {
	return map[Role]Style{
		RoleBox:      {Fill: k.box, Line: k.ink, Pt: 1.1},
		RoleLiner:    {Line: k.ink, Pt: 0.4},
		RoleBarrier:  {Fill: k.faint, Line: k.soft, Pt: 0.5},
		RoleModule:   {Fill: k.module, Line: k.moduleLine, Pt: 0.6},
		RolePositive: {Fill: k.plus, Line: k.plusLine, Pt: 0.7},
		RoleNegative: {Fill: k.minus, Line: k.minusL, Pt: 0.7},
		RolePort:     {Fill: k.hose, Line: k.hoseText, Pt: 0.5},
		RoleStrip:    {Line: k.faint, Pt: 0.25, Pitch: 6},
		RoleGear:     {Fill: k.gear, Line: k.gearL, Pt: 0.6},
		RoleFoot:     {Fill: k.metal, Line: k.ink, Pt: 0.6},
		RoleOpening:  {Fill: k.paper, Line: k.ink, Pt: 0.8},
		RoleLink:     {Line: k.link, Text: k.link, Pt: 1.8},
		RoleCable:    {Line: k.cable, Text: k.cableText, Pt: 2.6},
		RoleHose:     {Line: k.hose, Text: k.hoseText, Pt: 1.8, Dash: []float64{6, 2}},
		RoleBare:     {Fill: k.plus, Line: k.breach, Text: k.breach, Pt: 2.2},
		RoleCovered:  {Fill: k.metal, Line: k.soft, Text: k.soft, Pt: 2.2, Dash: []float64{3, 1.5}},
		RoleHot:      {Fill: rgba(okabeVermillion, 0x50), Line: k.breach, Text: k.breach},
		RoleCut:      {Fill: k.metal, Line: k.ink, Pt: 0.8, Pitch: 3},
		RoleSheet:    {Fill: k.box, Line: k.ink, Pt: 1.1},
		RoleHole:     {Line: k.ink, Pt: 0.6},
		RoleBendUp:   {Line: k.accent, Text: k.accent, Pt: 0.7, Dash: []float64{8, 2, 1.5, 2}},
		RoleBendDown: {Line: k.warn, Text: k.warn, Pt: 0.7, Dash: []float64{3, 2}},
		RoleShade:    {Fill: k.shade},
	}
}

func readingStyles(k inks) map[Role]Style {
	return map[Role]Style{
		RoleCG:        {Fill: k.ink, Line: k.ink, Pt: 1, Bold: true},
		RoleCGDonor:   {Line: k.soft, Text: k.soft, Pt: 1, Dash: []float64{2.5, 1.5}},
		RoleLoad:      {Fill: k.paper, Line: k.ink, Pt: 0.7},
		RoleBreach:    {Line: k.breach, Text: k.breach, Pt: 1.2, Bold: true},
		RoleWarning:   {Line: k.warn, Text: k.warn, Pt: 1, Dash: []float64{4, 2}},
		RoleDimension: {Line: k.soft, Pt: 0.4, Size: 7.5},
		RoleLabel:     {Fill: k.ink, Line: k.ink, Size: 8},
		RoleLeader:    {Fill: k.soft, Line: k.soft, Pt: 0.5},
		RoleTitle:     {Line: k.ink, Size: 12, Bold: true},
		RoleScaleBar:  {Fill: k.ink, Line: k.ink, Pt: 0.6},
		RoleHandle:    {Fill: k.paper, Line: k.accent, Pt: 1},
	}
}

func chartStyles(k inks) map[Role]Style {
	return map[Role]Style{
		RoleChartAxis: {Line: k.soft, Text: k.ink, Pt: 0.6},
		RoleChartMark: {Fill: k.mark, Line: k.markLine, Pt: 0.8},
		RoleChartBest: {Fill: k.best, Line: k.best, Text: k.breach, Pt: 1.4},
		RoleWindow:    {Fill: k.bay, Line: k.bayLine, Text: k.bayLine, Pt: 0.9},
	}
}
