module stowbay

go 1.26.0

require (
	codeberg.org/go-pdf/fpdf v0.12.0 // indirect
	fyne.io/fyne/v2 v2.8.1 // indirect
	github.com/BurntSushi/toml v1.6.0 // indirect
	github.com/golang/geo v0.0.0-20260818125358-b200a1149890 // indirect
	github.com/google/go-cmp v0.7.0 // indirect
	github.com/inconshreveable/mousetrap v1.1.0 // indirect
	github.com/peterstace/simplefeatures v0.59.0 // indirect
	github.com/qmuntal/gltf v0.28.0 // indirect
	github.com/rogpeppe/go-internal v1.16.0 // indirect
	github.com/spf13/cobra v1.10.2 // indirect
	github.com/spf13/pflag v1.0.9 // indirect
	golang.org/x/exp/typeparams v0.0.0-20231108232855-2478ac86f678 // indirect
	golang.org/x/image v0.47.0 // indirect
	golang.org/x/mod v0.41.0 // indirect
	golang.org/x/sync v0.23.0 // indirect
	golang.org/x/sys v0.50.0 // indirect
	golang.org/x/tools v0.51.0 // indirect
	gonum.org/v1/gonum v0.17.0 // indirect
	gopkg.in/yaml.v3 v3.0.1 // indirect
	honnef.co/go/tools v0.8.2 // indirect
	pgregory.net/rapid v1.3.0 // indirect
)

tool honnef.co/go/tools/cmd/staticcheck
