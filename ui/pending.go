package ui

func (w *Window) askNew()              {}
func (w *Window) editSettings()        {}
func (w *Window) editHeading()         {}
func (w *Window) editDonor(string)     {}
func (w *Window) askUnderlay()         {}
func (w *Window) addUnderlay(string)   {}
func (w *Window) calibrate()           {}
func (w *Window) askImport()           {}
func (w *Window) importOutline(string) {}
func (w *Window) editRecord(string)    {}
