package report

// sections are all sections in the order of the report. Those that belong to an arrangement are set for one
// arrangement after the other.
var sections []section

func init() {
	sections = []section{
		{key: "compare", title: "Comparison of arrangements", whole: true, set: (*book).compare, applies: func(b *book) bool { return len(b.es) > 1 }},
		{key: "summary", title: "Summary", set: (*book).summary},
		{key: "drawings", title: "General arrangement drawings", wide: true, set: (*book).drawings},
		{key: "boxes", title: "Boxes", set: (*book).boxes, applies: hasBoxes},
		{key: "mass", title: "Mass ledger", set: (*book).massLedger},
		{key: "loads", title: "Load cases", wide: true, set: (*book).loadCases},
		{key: "electric", title: "Electrics", set: (*book).electrics},
		{key: "assembly", title: "Assembly", set: (*book).assemblySteps, applies: hasBoxes},
		{key: "mounting", title: "Mounting", set: (*book).mounting, applies: hasBoxes},
		{key: "cooling", title: "Cooling", set: (*book).coolant, applies: hasBoxes},
		{key: "range", title: "Range", set: (*book).driving},
		{key: "findings", title: "Findings", wide: true, set: (*book).findings},
		{key: "readings", title: "Readings and how they were computed", set: (*book).readings},
		{key: "checks", title: "Check sheets", set: (*book).checkSheets, applies: hasBoxes},
		{key: "sheet", title: "Sheet metal", set: (*book).sheetMetal, applies: hasBoxes},
		{key: "parts", title: "Parts list", set: (*book).partsList},
		{key: "register", title: "Module register", whole: true, set: (*book).register},
		{key: "assumptions", title: "Assumptions and estimates", whole: true, set: (*book).assumptions},
		{key: "sources", title: "Rules and their sources", whole: true, set: (*book).sources},
		{key: "cautions", title: "Cautions", whole: true, set: (*book).cautions},
	}
}

func hasBoxes(b *book) bool { return len(b.e.Scene.Boxes) > 0 }
