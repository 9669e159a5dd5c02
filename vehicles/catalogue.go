package vehicles

import (
	"embed"
	"io/fs"
	"path"
	"strings"
	"sync"
)

//go:embed catalogue/donors/*.yaml catalogue/modules/*.yaml catalogue/gear/*.yaml
var catalogueFiles embed.FS

func openCatalogue() *Library {
	return &Library{
		donors:  openShelf("donors", ReadDonor),
		modules: openShelf("modules", ReadModule),
		gear:    openShelf("gear", ReadGear),
	}
}

// openShelf lists an embedded folder. A file is named after the short name of the record in it.
func openShelf[T any](folder string, read func(string, []byte) (*T, error)) shelf[T] {
	dir := path.Join("catalogue", folder)
	entries, err := fs.ReadDir(catalogueFiles, dir)
	if err != nil {
		panic("vehicles: embedded catalogue: " + err.Error()) // the program was built wrongly
	}
	s := shelf[T]{}
	for _, e := range entries {
		file := path.Join(dir, e.Name())
		s[strings.TrimSuffix(e.Name(), ".yaml")] = sync.OnceValue(func() *T { return mustRead(file, read) })
	}
	return s
}

// mustRead reads an embedded record. The tests read every one, so a failure means a wrongly built program.
func mustRead[T any](file string, read func(string, []byte) (*T, error)) *T {
	data, err := catalogueFiles.ReadFile(file)
	if err != nil {
		panic("vehicles: embedded catalogue: " + err.Error())
	}
	v, err := read(file, data)
	if err != nil {
		panic("vehicles: embedded catalogue: " + err.Error())
	}
	return v
}

// Catalogue returns the embedded library: invented records for demonstration. A record is read when it is first
// asked for, so that a program which needs three does not wait for all.
func Catalogue() *Library { return catalogue() }

var catalogue = sync.OnceValue(openCatalogue)
