// Package ui is the desktop's window. It shows what package view holds and hands on what the user does; it
// computes nothing itself. It may not import Fyne's app package, so that all of it runs in tests without a display.
package ui
