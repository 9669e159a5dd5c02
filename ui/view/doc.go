// Package view is the desktop's view model: cameras, selection, hit test, snapping, tools and typed numbers. It
// knows plans and scenes but no window, so that all of it is tested without one. It computes no engineering
// figure of its own.
//
// Pixels are those of the picture, counted from its top left corner; millimetres are those of a view's plane as
// package drawing describes it.
package view
