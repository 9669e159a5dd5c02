package ui

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
)

// look is the theme of dialogs, menus and fields; it takes its colours from a skin.
type look struct{ *skin }

var _ fyne.Theme = look{}

// Color implements [fyne.Theme].
func (l look) Color(name fyne.ThemeColorName, _ fyne.ThemeVariant) color.Color {
	k := l.ink
	switch name {
	case theme.ColorNameBackground, theme.ColorNameMenuBackground, theme.ColorNameOverlayBackground:
		return k.pane
	case theme.ColorNameForeground:
		return k.text
	case theme.ColorNameForegroundOnPrimary:
		return k.pane
	case theme.ColorNamePlaceHolder, theme.ColorNameDisabled:
		return k.faint
	case theme.ColorNamePrimary, theme.ColorNameHyperlink, theme.ColorNameFocus:
		return l.primary(name)
	case theme.ColorNameButton, theme.ColorNameDisabledButton:
		return k.under
	case theme.ColorNameInputBackground, theme.ColorNameHeaderBackground:
		return l.Palette.Paper()
	case theme.ColorNameInputBorder, theme.ColorNameSeparator:
		return k.rule
	case theme.ColorNameHover:
		return translucent(k.accent, 28)
	case theme.ColorNamePressed, theme.ColorNameSelection:
		return translucent(k.accent, 60)
	case theme.ColorNameError:
		return k.bad
	case theme.ColorNameWarning:
		return k.near
	case theme.ColorNameSuccess:
		return k.good
	case theme.ColorNameScrollBar:
		return translucent(k.text, 90)
	}
	return theme.DefaultTheme().Color(name, l.variant())
}

func (l look) primary(name fyne.ThemeColorName) color.Color {
	if name == theme.ColorNameFocus {
		return translucent(l.ink.accent, 90)
	}
	return l.ink.accent
}

func (l look) variant() fyne.ThemeVariant {
	if l.dark {
		return theme.VariantDark
	}
	return theme.VariantLight
}

var (
	fontRegular = fyne.NewStaticResource("Go-Regular.ttf", goregular.TTF)
	fontBold    = fyne.NewStaticResource("Go-Bold.ttf", gobold.TTF)
	fontItalic  = fyne.NewStaticResource("Go-Italic.ttf", goitalic.TTF)
	fontMono    = fyne.NewStaticResource("Go-Mono.ttf", gomono.TTF)
)

// Font implements [fyne.Theme].
func (l look) Font(s fyne.TextStyle) fyne.Resource {
	switch {
	case s.Symbol:
		return theme.DefaultTheme().Font(s)
	case s.Monospace:
		return fontMono
	case s.Bold:
		return fontBold
	case s.Italic:
		return fontItalic
	}
	return fontRegular
}

// Icon implements [fyne.Theme].
func (l look) Icon(n fyne.ThemeIconName) fyne.Resource { return theme.DefaultTheme().Icon(n) }

// Size implements [fyne.Theme].
func (l look) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameText:
		return 13
	case theme.SizeNamePadding:
		return 4
	case theme.SizeNameInnerPadding:
		return 6
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		return 2
	}
	return theme.DefaultTheme().Size(n)
}
