# make run    install what is missing, build, open the desktop on the demo plan (headless: write the demo report)
# make test   install what is missing, run everything
# make bench  measure
# make fuzz   feed every reader of files arbitrary data, FUZZTIME each (4s; 1m in continuous integration)
# make flood  feed every reader INPUTS spoilt files (10000000): hours
# make mutate ask whether tests notice wrong formulas: SAMPLE changes (0: all) in each of PACKAGES
# make docs   write the field reference
# make build  build both programs into bin/

export PATH := $(PATH):/usr/local/go/bin
TAGS := x11
GO := go

.PHONY: run build test bench docs platforms fuzz flood mutate

run:
	@.ci/install desktop
	@$(MAKE) --no-print-directory build
	@if [ -n "$$DISPLAY" ]; then bin/stowbay --demo; else bin/stowfit demo -o out/demo; fi

build:
	@mkdir -p bin
	CGO_ENABLED=0 $(GO) build -o bin/stowfit ./cmd/stowfit
	$(GO) build -tags $(TAGS) -o bin/stowbay ./cmd/stowbay

test:
	@.ci/install test
	$(GO) vet -tags $(TAGS) ./...
	$(GO) tool staticcheck -tags $(TAGS) ./...
	@$(MAKE) --no-print-directory platforms
	@$(MAKE) --no-print-directory fuzz
	$(GO) test -tags $(TAGS) -timeout 40m ./...

# The command line is built for every system that a designer may sit at. The desktop is vetted for Windows and macOS: all its
# sources are type-checked as they would be compiled there, with the toolkit's tags that leave out its native window driver,
# which needs those systems' compilers.
platforms:
	@for os in linux windows darwin; do for arch in amd64 arm64; do \
		echo "build stowfit $$os/$$arch"; \
		CGO_ENABLED=0 GOOS=$$os GOARCH=$$arch $(GO) build -o /dev/null ./cmd/stowfit || exit 1; \
	done; done
	CGO_ENABLED=0 GOOS=windows $(GO) vet -tags ci ./...
	CGO_ENABLED=0 GOOS=darwin $(GO) vet -tags ci,mobile ./...

bench:
	$(GO) test -run '^$$' -bench . -benchmem ./...

docs:
	$(GO) run ./cmd/stowfit fields > testdata/FIELDS.md

# Every fuzz target of the repository; a test fails where one is missing here.
# Two run at once, each in one process.
FUZZTIME := 4s
FUZZERS := \
	geometry/outline:FuzzParseSVGPath \
	geometry/outline:FuzzReadDXF \
	geometry/outline:FuzzReadSVG \
	layout:FuzzParse \
	layout:FuzzUnmarshalEdit \
	layout/assembly:FuzzImportReceived \
	layout/journal:FuzzRecover \
	layout/packing/problemfile:FuzzReadCSV \
	layout/packing/problemfile:FuzzReadJSON \
	ui/paint:FuzzDecodePicture \
	ui/view:FuzzEvaluate \
	vehicles:FuzzDonor \
	vehicles:FuzzGear \
	vehicles:FuzzModule \
	vehicles/record:FuzzRead

fuzz:
	@printf '%s\n' $(FUZZERS) | xargs -P 2 -I {} .ci/fuzz {} $(FUZZTIME)

INPUTS := 10000000

flood:
	STOWBAY_INPUTS=$(INPUTS) $(GO) test -tags $(TAGS) -v -timeout 0 -p 1 -run '^TestFlood' ./...

SAMPLE := 0
PACKAGES := ./geometry/... ./layout/...

mutate:
	$(GO) run ./cmd/mutate -sample $(SAMPLE) $(PACKAGES)
