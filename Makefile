# Fettlebook. `make demo` and `make test` need Go, make and a C compiler; what
# else they need they install where apt-get is there, and name where it is not.

SHELL := bash
.SHELLFLAGS := -euo pipefail -c
.DEFAULT_GOAL := help
.DELETE_ON_ERROR:
MAKEFLAGS += --no-print-directory

# migrated_fynedo: the window only touches Fyne on Fyne's own thread, and Fyne
#   need not guard against the opposite. FyneApp.toml says so too, but a plain
#   `go build` does not read it.
# netgo, osusergo: no name is ever resolved through the C library, so everything
#   below the window compiles to the same objects with and without cgo. That
#   spares building SQLite a second time for the headless program.
TAGS := migrated_fynedo,netgo,osusergo

# Where `make demo` lays out the demo archive.
DEMO ?= $(or $(XDG_DATA_HOME),$(HOME)/.local/share)/fettlebook/demo

# A machine without a display gets the demo and its report all the same.
WINDOW := $(if $(or $(DISPLAY),$(filter Darwin,$(shell uname -s))),,--no-window)

# Everything that has no window: it must build for any desk.
BELOW := ./assess/... ./report/... ./assets/... ./cmd/...

.PHONY: help demo test bench soak build headless fmt clean

help: ## list what can be made
	@sed -n 's/^\([a-z]*\):.*## \(.*\)/make \1\t\2/p' $(firstword $(MAKEFILE_LIST)) | expand -t 16

demo: ## build, lay out a demo archive, write its report, open the window
	@$(MAKE) build
	@mkdir -p "$(DEMO)"
	@bin/fettlebook demo --archive "$(DEMO)" $(WINDOW)

build: ## build bin/fettlebook, the program with its window
	@.ci/packages.sh build
	@CGO_ENABLED=1 go build -tags $(TAGS) -o bin/fettlebook ./cmd/fettlebook

headless: ## build bin/fettlebook-headless: no window, no C
	@CGO_ENABLED=0 go build -tags headless -o bin/fettlebook-headless ./cmd/fettlebook

test: ## all that must hold before a change goes in (under 20 minutes, cold)
	@.ci/packages.sh build test
	@.ci/test.sh "$(TAGS)" $(BELOW)

bench: ## measure, beside general-purpose tools on the same files
	@.ci/packages.sh build test bench
	@go test -tags $(TAGS) -run '^$$' -bench . -benchmem -timeout 60m ./...

soak: ## the long tests: fuzzing every reader, many random changes
	@.ci/packages.sh build test
	@.ci/soak.sh "$(TAGS)"

fmt: ## format the source
	@gofmt -w .

clean: ## remove what was built (never an archive)
	@rm -rf bin
