package layout

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"reflect"

	"gopkg.in/yaml.v3"

	"stowbay/vehicles"
	"stowbay/vehicles/record"
)

func init() {
	record.Register(record.Kind{Name: "plan", Type: reflect.TypeFor[Plan](), Migrations: migrations})
}

// migrations turn an older plan file into the next format: migrations[n] takes format n to n+1. Format 1 is the
// first one, so there is none yet; the mechanism is tested with formats made up for the test.
var migrations = map[int]func(top *yaml.Node) error{}

// Load reads a plan file. Where anything is wrong with the file the error is of type [record.Problems] and lists all of it, each
// with its place. References to donors, modules and gear are not looked up; see [LoadOver].
func Load(path string) (*Plan, error) { return LoadOver(path, nil) }

// LoadOver is [Load] that also reports references to donors, modules and gear that are neither in the plan's own library nor in the catalogue.
func LoadOver(path string, catalogue *vehicles.Library) (*Plan, error) {
	data, err := ReadFile(path, "a plan file")
	if err != nil {
		return nil, err
	}
	return ParseOver(path, data, catalogue)
}

// ReadFile reads a file up to one byte more than a record may have, which the readers refuse. wanted says in messages what it is to
// hold: "a plan file". Folders, pipes and sockets are refused.
func ReadFile(path, wanted string) ([]byte, error) {
	st, err := os.Stat(path) // before opening: a pipe would make the opening wait for ever
	switch {
	case err != nil:
		return nil, explain("open", path, err)
	case st.IsDir():
		return nil, fmt.Errorf("%s is a folder; want %s", path, wanted)
	case st.Mode()&(os.ModeNamedPipe|os.ModeSocket) != 0:
		return nil, fmt.Errorf("%s is no file but a pipe or socket; want %s", path, wanted)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, explain("open", path, err)
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, record.MaxBytes+1))
	if err != nil {
		return nil, explain("read", path, err)
	}
	return data, nil
}

// Parse reads a plan from data; name is only used in messages. It never panics on any data. See [Load].
func Parse(name string, data []byte) (*Plan, error) { return ParseOver(name, data, nil) }

// ParseOver is [Parse] with the look-ups of [LoadOver], which are left out where the catalogue is nil.
func ParseOver(name string, data []byte, catalogue *vehicles.Library) (*Plan, error) {
	var p Plan
	if err := record.Read(name, data, &p); err != nil {
		return nil, err
	}
	if catalogue != nil {
		if ps := p.Unknown(p.LibraryOver(catalogue)); len(ps) > 0 {
			return nil, record.Placed(name, data, ps)
		}
	}
	return &p, nil
}

// Encode gives a plan as a file. The same plan always gives the same bytes, and reading them gives the plan. A plan that could
// not be read back is an error of type [record.Problems].
func Encode(p *Plan) ([]byte, error) {
	if ps := record.Check(p); len(ps) > 0 {
		return nil, record.Problems(ps)
	}
	data, err := record.Write(p)
	if err == nil && len(data) > record.MaxBytes {
		err = fmt.Errorf("the plan takes %d bytes; a plan file may have %d", len(data), record.MaxBytes)
	}
	return data, err
}

// Save writes a plan to a file, or leaves what was there as it was. See [ReplaceFile].
func Save(path string, p *Plan) error {
	data, err := Encode(p)
	if err != nil {
		return fmt.Errorf("the plan cannot be saved: %w", err)
	}
	return ReplaceFile(path, data)
}

// OpenBeside opens a file that a plan names, relative to the plan's folder. It refuses whatever lies outside that folder,
// links that lead out of it included.
func OpenBeside(plan, file string) (io.ReadCloser, error) {
	if msg := outside(file); msg != "" || file == "" {
		return nil, fmt.Errorf("%s: %s", file, msg)
	}
	root, err := os.OpenRoot(filepath.Dir(plan))
	if err != nil {
		return nil, explain("open", filepath.Dir(plan), err)
	}
	defer root.Close()
	name := filepath.FromSlash(file)
	if st, err := root.Stat(name); err == nil && !st.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no ordinary file", file)
	}
	f, err := root.Open(name)
	if err != nil {
		return nil, explain("open", file, err)
	}
	return f, nil
}
