package fielddoc_test

import (
	"reflect"
	"strings"
	"testing"

	"stowbay/vehicles"
	"stowbay/vehicles/fielddoc"
	"stowbay/vehicles/record"
)

type kite struct {
	ID    string       `yaml:"id" rule:"required,id" doc:"short name"`
	Tail  *tail        `yaml:"tail,omitempty" doc:"tail | none"`
	Sails []sail       `yaml:"sails" rule:"required,minlen=1,maxlen=4" doc:"sails"`
	Line  float64      `yaml:"line_mm" rule:"min=1" doc:"length of the line"`
	Shape [][2]float64 `yaml:"shape,omitempty" rule:"polygon" doc:"outline"`
	At    [3]float64   `yaml:"at_mm,omitempty" rule:"max=9" doc:"place"`
}

type tail struct {
	Colour string `yaml:"colour" rule:"oneof=red|blue" doc:"paint"`
	Next   *tail  `yaml:"next,omitempty" doc:"another one"`
}

type sail struct {
	MassKg float64  `yaml:"mass_kg" rule:"required,min=0,max=2" doc:"mass"`
	Tail   tail     `yaml:"tail,omitempty" doc:"its tail"`
	Names  []string `yaml:"names,omitempty" rule:"maxlen=1" doc:"names"`
	Strong bool     `yaml:"strong,omitempty" doc:"true where strong"`
	Count  int      `yaml:"count" rule:"min=1,max=1" doc:"how many"`
}

const want = `## Kite

| Field | Type | Unit | Allowed | Required | Meaning |
|---|---|---|---|---|---|
| ` + "`id`" + ` | text |  | a-z, 0-9, - and _, 1 to 64 of them | yes | short name |
| ` + "`tail`" + ` | record, see *tail* |  |  |  | tail \| none |
| ` + "`sails`" + ` | list of records, see *sails* |  | 1 to 4 entries | yes | sails |
| ` + "`line_mm`" + ` | number | mm | from 1 |  | length of the line |
| ` + "`shape`" + ` | list of [x, y] |  | simple polygon |  | outline |
| ` + "`at_mm`" + ` | [x, y, z] | mm | up to 9 |  | place |

### Kite: tail

| Field | Type | Unit | Allowed | Required | Meaning |
|---|---|---|---|---|---|
| ` + "`colour`" + ` | text |  | red or blue |  | paint |
| ` + "`next`" + ` | record, see *tail* |  |  |  | another one |

### Kite: sails

| Field | Type | Unit | Allowed | Required | Meaning |
|---|---|---|---|---|---|
| ` + "`mass_kg`" + ` | number | kg | 0 to 2 | yes | mass |
| ` + "`tail`" + ` | record, see *tail* |  |  |  | its tail |
| ` + "`names`" + ` | list of texts |  | at most 1 entry |  | names |
| ` + "`strong`" + ` | true or false |  |  |  | true where strong |
| ` + "`count`" + ` | whole number |  | 1 |  | how many |
`

func TestMarkdown(t *testing.T) {
	if got := fielddoc.Markdown("Kite", reflect.TypeFor[*kite]()); got != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
}

// Every field that the reader knows has to be in the reference, with a word on what it means.
func TestNothingIsLeftOut(t *testing.T) {
	for title, typ := range map[string]reflect.Type{
		"Donor": reflect.TypeFor[vehicles.Donor](), "Module": reflect.TypeFor[vehicles.Module](), "Gear": reflect.TypeFor[vehicles.Gear](),
	} {
		text := fielddoc.Markdown(title, typ)
		everyField(typ, map[reflect.Type]bool{}, func(f record.Field) {
			if !strings.Contains(text, "| `"+f.Name+"` |") {
				t.Errorf("%s: %s is not in the reference", title, f.Name)
			}
			if f.Doc == "" {
				t.Errorf("%s: %s has no explanation", title, f.Name)
			}
		})
	}
}

func everyField(t reflect.Type, seen map[reflect.Type]bool, visit func(record.Field)) {
	if seen[t] {
		return
	}
	seen[t] = true
	for _, f := range record.Fields(t) {
		visit(f)
		if f.Record != nil {
			everyField(f.Record, seen, visit)
		}
	}
}
