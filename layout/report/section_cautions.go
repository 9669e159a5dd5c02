package report

// cautions are the standing warnings. Common practice of the trade, no source.
var cautionTexts = []string{
	"Nothing in this report says that a layout is safe, legal or fit for use. It compares figures with rules; where figures or rules are wrong, so is what it says.",
	"Local vehicle codes decide what may be on the road. Have the vehicle judged by whoever is licensed to do that where it is registered, and electrical work done or supervised by a licensed electrician where the law asks for one.",
	"The makers' data for modules, gear and vehicle come before anything written here.",
	"A battery pack is never off. Above 60 V DC a touch can kill; below it, a short circuit still throws molten metal and starts fires. Cover every terminal that is not being worked on, use insulated tools, wear eye protection, take off rings and watches, never work alone.",
	"Make the joint that closes a string last, at the service link. Fuse and contactor come before any conductor leaves a box.",
	"Never weld, drill or grind on a box with modules in it.",
	"Modules and boxes crush: lift with gear rated for the mass stated, support from below, keep hands and feet clear.",
	"A damaged, swollen, wet or dropped module may burn hours or days later. Set it outdoors, away from anything that burns, and ask the maker.",
	"Crash loads, welds, frame metal and bolts are compared by simple formulas. A qualified person has to judge the structure.",
	"Dimensions on the drawings are nominal. Measure the vehicle and the parts in hand before cutting metal.",
}

func (b *book) cautions() {
	b.Caution(Caution)
	b.Bullets(cautionTexts)
	if b.plan.Settings.Code == "" {
		b.Para("The plan names no local vehicle code. Enter the one that applies in the plan's settings so that it is in the papers.")
	} else {
		b.Para("The plan names this local vehicle code: " + b.plan.Settings.Code + ". No rule of it is checked here unless the list of rules says so.")
	}
}
