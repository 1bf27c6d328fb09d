# What a person does with this repository. `make` alone lists it.

GO    := go
TOOL  := $(GO) tool -modfile=tools/go.mod
# Packages that start goroutines run under the race detector as well; the commands assess with both methods on
# several cores. Of the methods' own tests, which take minutes there, only those of workers run.
RACE  := . ./calc ./cmd/...
FUZZTIME ?= 30s
BENCHTIME ?= 1s

export CGO_ENABLED := 0

.PHONY: help build demo test race lint format bench fuzz generate clean

help: ## list the targets
	@awk -F':.*## ' '/^[a-z]+:.*## /{printf "  make %-9s %s\n", $$1, $$2}' $(MAKEFILE_LIST)

build: ## build bin/leste
	$(GO) build -trimpath -ldflags '-s -w' -o bin/leste ./cmd/leste

demo: build ## assess two of the examples and say where the files are
	@./examples/demo.sh bin/leste out/demo

test: race ## run every test; the closing lines say how many
	$(TOOL) gotestsum --format pkgname-and-test-fails -- ./...

race: ## run the tests of the packages that start goroutines under the race detector
	@if command -v gcc >/dev/null; then \
		echo 'race detector: $(RACE)'; CGO_ENABLED=1 $(GO) test -race $(RACE) && \
		CGO_ENABLED=1 $(GO) test -race -run 'Worker|Team|Core|Cancel' ./drying; \
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
