# The commands of a working day. `make` alone lists them.

FUZZTIME ?= 60s
TESTFLAGS ?=
# -s -w leaves out what only a debugger reads, -buildvcs=false what differs
# between two copies of one source.
LDFLAGS = -s -w
SYSTEMS = linux darwin windows
PROCESSORS = amd64 arm64
JOB ?= testdata/jobs/hall-table.toml
OUT ?= out/hall-table

# Nothing here is C: the program builds, and is tested, without a C compiler.
export CGO_ENABLED = 0

.DEFAULT_GOAL := help
.PHONY: help build dist demo test witnesses bench bench-peers lint cross fuzz clean

help: ## list these targets
	@sed -n 's/^\([a-z-]*\): .*## \(.*\)/  \1\t\2/p' Makefile | expand -t 14

build: ## build bin/strapwork
	go build -trimpath -ldflags "$(LDFLAGS)" -o bin/strapwork ./cmd/strapwork

dist: ## build out/dist: one file for each system and processor, SHA256SUMS
	rm -rf out/dist
	@mkdir -p out/dist
	@set -e; for os in $(SYSTEMS); do for arch in $(PROCESSORS); do \
		case $$os in windows) ext=.exe ;; *) ext= ;; esac; \
		echo "strapwork-$$os-$$arch$$ext"; \
		GOOS=$$os GOARCH=$$arch go build -trimpath -buildvcs=false -ldflags "$(LDFLAGS)" \
			-o out/dist/strapwork-$$os-$$arch$$ext ./cmd/strapwork; \
	done; done
	cd out/dist && sha256sum strapwork-* > SHA256SUMS

demo: build ## build the hall table's templates (JOB=FILE OUT=DIR for others)
	bin/strapwork build $(JOB) --out $(OUT)
	@echo "the hall table is in $(OUT): start with setup.md"
	@find $(OUT) -type f | sort | sed 's/^/  /'

test: ## run all tests; installs nothing (WITNESS=required: a missing witness fails)
	@.ci/check-witness
	go test $(TESTFLAGS) ./...

witnesses: ## install what some tests ask for a second opinion (as root, with apt-get)
	@.ci/witness

bench: ## measure
	go test -run '^$$' -bench . -benchmem ./...

bench-peers: ## measure the kernel beside GEOS (g++, libgeos-dev; python3-shapely)
	@mkdir -p out/peers
	-g++ -O2 -o out/peers/geos testdata/peers/geos.cpp -lgeos_c
	PEERS="$(CURDIR)/out/peers" go test ./pkg/geom/region -run TestPeers -v -count=1

lint: ## vet, staticcheck, gofumpt, no paths of one machine
	go vet ./...
	go tool staticcheck ./...
	@unformatted="$$(go tool gofumpt -l .)" && \
	if [ -n "$$unformatted" ]; then \
		echo "not formatted (go tool gofumpt -w FILES):"; echo "$$unformatted"; exit 1; \
	fi
	@if git grep -nIE '(^|[^A-Za-z0-9_.$$-])/(work|root|home)/'; then \
		echo "the lines above hold a path of one machine"; exit 1; \
	fi

cross: ## compile for Windows and macOS
	GOOS=windows GOARCH=amd64 go build ./...
	GOOS=darwin GOARCH=arm64 go build ./...

fuzz: ## run every fuzz target for FUZZTIME (60s) under 1 GiB
	.ci/fuzz $(FUZZTIME)

clean: ## remove what was built
	rm -rf bin out
