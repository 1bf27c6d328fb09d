# What a person does with this repository. `make` alone lists it.

GO    := go
TOOL  := $(GO) tool -modfile=tools/go.mod
# Packages that start goroutines run under the race detector as well; the commands assess with both methods on
# several cores. Of the methods' own tests, which take minutes there, only those of workers run.
RACE  := . ./calc ./cmd/... ./web/...
FUZZTIME ?= 30s
BENCHTIME ?= 1s

export CGO_ENABLED := 0

.PHONY: help build screens ui uitest demo test race lint format bench fuzz generate clean

help: ## list the targets
	@awk -F':.*## ' '/^[a-z]+:.*## /{printf "  make %-9s %s\n", $$1, $$2}' $(MAKEFILE_LIST)

build: screens ## build bin/leste, with the screens of the desk where Node is
	$(GO) build -trimpath -ldflags '-s -w' -o bin/leste ./cmd/leste

# The screens are built into web/dist, which becomes part of the program; without Node the program says that they are
# missing.
screens:
	@if ! command -v npm >/dev/null; then echo 'screens: not built, they need Node 20 or later'; \
	elif [ ! -f web/dist/index.html ] || [ -n "$$(find ui -path ui/node_modules -prune -o -type f -newer web/dist/index.html -print -quit)" ]; then \
		$(MAKE) --no-print-directory ui || echo 'screens: not built, see above; the program is built without them'; fi

ui: ## build the screens of the desk from the locked packages
	cd ui && { [ node_modules/.package-lock.json -nt package-lock.json ] || npm ci --no-audit --no-fund; } && npm run --silent build

uitest: build ## check and test the screens, in a real browser too
	cd ui && npm run --silent check && npm run --silent test && LESTE=../bin/leste npm run --silent browser

demo: build ## assess two of the examples and say where the files are
	@./examples/demo.sh bin/leste out/demo

test: race ## run every test; the closing lines say how many
	$(TOOL) gotestsum --format pkgname-and-test-fails -- ./...

race: ## run the tests of the packages that start goroutines under the race detector
	@if command -v gcc >/dev/null; then \
		echo 'race detector: $(RACE)'; CGO_ENABLED=1 $(GO) test -race -timeout 40m $(RACE) && \
		CGO_ENABLED=1 $(GO) test -race -timeout 40m -run 'Worker|Team|Core|Cancel' ./drying; \
	else echo 'race detector: skipped, it needs gcc'; fi

lint: ## check formatting, imports and code
	$(TOOL) golangci-lint run --allow-parallel-runners

format: ## format the Go files
	$(TOOL) golangci-lint fmt

bench: ## measure speed and memory, and print the figures beside their limits
	$(GO) run ./bench -test.benchtime=$(BENCHTIME)
	$(GO) test -run '^$$' -bench . -benchtime $(BENCHTIME) ./...

fuzz: ## fuzz each target for FUZZTIME (default 30s)
	@set -e; for f in $$(grep -rlE '^func Fuzz' --include='*_test.go' . | xargs -n1 dirname | sort -u); do \
		for t in $$(grep -rhoE '^func Fuzz[A-Za-z0-9_]*' $$f/*_test.go | cut -d' ' -f2 | sort -u); do \
			echo "== $$f $$t"; $(GO) test $$f -run '^$$' -fuzz "^$$t$$" -fuzztime $(FUZZTIME) -fuzzminimizetime 10x; \
		done; done

generate: ## write the generated documents, tables and reference files again
	$(GO) generate ./...

clean: ## remove what the targets wrote
	rm -rf bin out
