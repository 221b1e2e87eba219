# helmcue. `make demo` is the place to begin; README.md has the rest.
SHELL := /bin/bash
.SHELLFLAGS := -eu -o pipefail -c
.PHONY: demo build arm64 test same race bench eval lint fmt voices

# Rooms with goroutines, sockets, files or devices: these run under -race.
EDGES = $(wildcard $(addprefix ./internal/,app feed library pairing server speaker))

# Without the ALSA headers the loudspeaker is left out; the phones speak all the same.
SOUND = pkg-config --exists alsa 2>/dev/null && command -v gcc >/dev/null
WHY_SOUND = so that this machine can speak the cues: ALSA headers and a C compiler for the loudspeaker

demo: build
	@bin/helmcue serve --sim under-the-wood

build:
	@.ci/page-engine || echo "building without the page's own coach: a phone that loses its link falls silent and says so"
	@if ! { $(SOUND); } && [ "$$(uname -s)" = Linux ]; then \
		.ci/need "$(WHY_SOUND)" gcc libc6-dev pkg-config libasound2-dev || true; \
	fi
	@if { $(SOUND); } || [ "$$(uname -s)" != Linux ]; then \
		go build -o bin/helmcue ./cmd/helmcue; \
	else \
		echo "building without the loudspeaker: this machine stays silent, cues are shown and spoken by the phones"; \
		CGO_ENABLED=0 go build -tags nosound -o bin/helmcue ./cmd/helmcue; \
	fi

test: build
	@.ci/need "$(WHY_SOUND)" gcc libc6-dev pkg-config libasound2-dev
	@.ci/need "for the test of what a sound device was really given" libasound2-plugins
	@command -v chromium >/dev/null || .ci/need "to open the pages in a real browser" chromium
	@command -v ffmpeg >/dev/null || .ci/need "to check the clips' loudness against another meter" ffmpeg
	@command -v node >/dev/null || .ci/need "to run the tests of the pages' logic" nodejs
	@command -v npm >/dev/null || .ci/need "to check the pages' names, contrast and types" npm
	cd web && npm ci --no-audit --no-fund --silent
	go vet ./...
	go test -timeout 20m $$(go list ./... | grep -v /web$$)
	go test -parallel 1 -timeout 45m ./web # by itself, one page at a time: a browser short of breath is late, and the tests are about time
	$(if $(EDGES),go test -race $(EDGES))
	node --test web/test/*.test.js
	.ci/same

# The same cues on every processor.
same:
	.ci/same

# For a small computer in the boat, with sound; built on Debian, whose packages for
# the other processor it needs.
arm64:
	@.ci/need-arm64
	@.ci/page-engine
	CC=aarch64-linux-gnu-gcc PKG_CONFIG_LIBDIR=/usr/lib/aarch64-linux-gnu/pkgconfig \
	CGO_ENABLED=1 GOOS=linux GOARCH=arm64 go build -o bin/helmcue-arm64 ./cmd/helmcue

bench:
	@go test -run '^$$' -bench . -benchtime 1s ./... | awk -f .ci/ratios.awk

# How well the wind is found, and what the coaching is worth: some minutes on all cores; testdata/eval keeps what came of it.
eval:
	@go run ./cmd/evaluate
	@go run ./cmd/evaluate coach

lint:
	@command -v npm >/dev/null || .ci/need "to check the pages' types" npm
	go vet ./...
	go tool staticcheck ./...
	cd web && npm ci --no-audit --no-fund && npx --no-install tsc -p jsconfig.json

fmt:
	gofmt -l -w $$(git ls-files -c -o --exclude-standard '*.go')

# Both voices from the phrase book: what is missing is made, all is measured.
voices:
	@.ci/need "to make and measure the clips" festival festvox-us-slt-hts festvox-kallpc16k ffmpeg
	voices/make-clips.sh isla
	voices/make-clips.sh ned
