//go:build !ci && !mobile

package main

import "github.com/go-gl/glfw/v3.4/glfw"

// flatWindow asks for a window without depth and stencil buffers: everything is painted flat, and where a processor does the
// work of the graphics, clearing them took a tenth of each frame. It holds for windows opened after the toolkit has begun.
func flatWindow() {
	glfw.WindowHint(glfw.DepthBits, 0)
	glfw.WindowHint(glfw.StencilBits, 0)
}
