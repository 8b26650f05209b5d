# make run    builds the program and serves an invented school to look round, until Ctrl-C
# make test   installs the Debian packages that tests need, if missing, and runs all tests
# make gallery draws docs/gallery.md anew, with every question of the bank
# make full   the laws of numbers for each pupil on 200 variants and 100 pupils a family: a long time
# make pages  writes the Go of the pages' templates anew
# make bench  the benchmarks; make fuzz: 60 s for each fuzz target; make lint: vet and staticcheck
GO ?= go
VERSION := $(shell git describe --tags --always --dirty 2>/dev/null || echo unknown)
FLAGS := -trimpath -ldflags "-s -w -X main.version=$(VERSION)"
FUZZTIME ?= 60s
TEMPL := github.com/a-h/templ/cmd/templ@v0.3.1118
STATICCHECK := honnef.co/go/tools/cmd/staticcheck@v0.8.2

.PHONY: run build pages gallery test full packages bench fuzz lint pictures

run: build
	@bin/steelyard serve --demo

build:
	CGO_ENABLED=0 $(GO) build $(FLAGS) -o bin/steelyard ./cmd/steelyard

pages:
	$(GO) run $(TEMPL) generate

gallery:
	$(GO) test ./cmd/steelyard -run TestGalleryPageIsUpToDate -update

test: packages
	$(GO) vet ./...
	$(GO) test ./...

full:
	STEELYARD_FULL=1 $(GO) test -timeout 3h ./variant

packages:
	@./.ci/packages

bench:
	$(GO) test -run '^$$' -bench . -benchmem ./...

fuzz:
	@./.ci/fuzz $(FUZZTIME)

lint:
	@test -z "$$(gofmt -l .)" || { gofmt -l .; exit 1; }
	$(GO) vet ./...
	$(GO) run $(STATICCHECK) ./...

# The README's pictures, made by the program from the README's question.
pictures: build
	bin/steelyard draw docs/pictures/bridge.moments -o docs/pictures/sketch.svg --width 460
	bin/steelyard draw docs/pictures/bridge.moments --view moment --about Q -o docs/pictures/moment.svg --width 460
	STEELYARD_PICTURES=$(CURDIR)/docs/pictures $(GO) test -count=1 ./web -run TestReadmePicture
