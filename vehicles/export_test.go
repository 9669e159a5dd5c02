package vehicles

// ReadWholeCatalogue opens the embedded catalogue afresh and reads all of it.
func ReadWholeCatalogue() {
	l := openCatalogue()
	l.Donors()
	l.Modules()
	l.AllGear()
}
