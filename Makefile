# make run    install what is missing, build, open the desktop on the demo plan (headless: write the demo report)
# make test   install what is missing, run everything
# make bench  measure
# make docs   write the field reference
# make build  build both programs into bin/

export PATH := $(PATH):/usr/local/go/bin
TAGS := x11
GO := go

.PHONY: run build test bench docs platforms

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
	$(GO) test -tags $(TAGS) -timeout 40m ./...

# The command line for every system that a designer may sit at; the desktop is vetted for the same systems by its tests.
platforms:
	@for os in linux windows darwin; do for arch in amd64 arm64; do \
		echo "build stowfit $$os/$$arch"; \
		CGO_ENABLED=0 GOOS=$$os GOARCH=$$arch $(GO) build -o /dev/null ./cmd/stowfit || exit 1; \
	done; done

bench:
	$(GO) test -run '^$$' -bench . -benchmem ./...

docs:
	$(GO) run ./cmd/stowfit fields > testdata/FIELDS.md
