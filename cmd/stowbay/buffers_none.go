//go:build ci || mobile

package main

// flatWindow does nothing where the sources are only vetted, without the toolkit's native windows.
func flatWindow() {}
