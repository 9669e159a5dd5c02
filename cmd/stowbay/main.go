// Command stowbay is the desktop planner. See package ui.
package main

import (
	_ "embed"
	"flag"
	"fmt"
	"os"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/app"

	"stowbay/layout"
	"stowbay/layout/demo"
	"stowbay/ui"
	"stowbay/vehicles"
)

// appID names the program to the desktop and its preferences.
const appID = "org.stowbay.Stowbay"

// timingsVariable in the environment has the program print to standard error, for measuring: "frames" when each frame was
// shown, anything else also how long everything took.
const timingsVariable = "STOWBAY_TIMINGS"

func timings() ui.Timings {
	switch os.Getenv(timingsVariable) {
	case "":
		return ui.NoTimings
	case "frames":
		return ui.FrameTimings
	}
	return ui.AllTimings
}

//go:embed stowbay.svg
var icon []byte

func main() {
	flag.Usage = func() {
		fmt.Fprintln(os.Stderr, "usage: stowbay [PLAN]\n\nOpens the desktop planner, on a plan where one is named.")
		flag.PrintDefaults()
	}
	showDemo := flag.Bool("demo", false, "open the demonstration plan; saving asks where")
	flag.Parse()
	if flag.NArg() > 1 || *showDemo && flag.NArg() > 0 {
		flag.Usage()
		os.Exit(exitBadInput)
	}
	os.Exit(run(flag.Arg(0), *showDemo))
}

// exitBadInput is the exit code for a plan that cannot be read.
const exitBadInput = 2

func run(path string, showDemo bool) int {
	plan, err := open(path, showDemo)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return exitBadInput
	}
	a := app.NewWithID(appID)
	a.SetIcon(fyne.NewStaticResource("stowbay.svg", icon))
	w := ui.New(a, plan, ui.Options{Path: path, Unnamed: showDemo, Timings: timings()})
	if err := show(w); err != nil {
		fmt.Fprintln(os.Stderr, err)
		return exitNoWindow
	}
	a.Run()
	return 0
}

// exitNoWindow is the exit code where no window can be opened: there is no display, or it does not answer.
const exitNoWindow = 1

// show shows the window. The toolkit panics where there is no display.
func show(w *ui.Window) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("stowbay: no window can be opened here (%v). Is there a display? Without one, use stowfit", r)
		}
	}()
	flatWindow()
	w.Show()
	return nil
}

// open reads the plan named or the demonstration, or begins one for a donor of the catalogue.
func open(path string, showDemo bool) (*layout.Plan, error) {
	if showDemo {
		return demo.Plan()
	}
	if path != "" {
		return layout.LoadOver(path, vehicles.Catalogue())
	}
	return layout.NewPlan(vehicles.Catalogue().Donors()[0], "New plan"), nil
}
