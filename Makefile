# The targets of the house. Each makes .venv first when it is missing or older than the lock files.
# PYTHON=/path/to/python3 chooses the Python that .venv is made with.

SHELL := /bin/sh
PY := .venv/bin/python
READY := .venv/.ready
export PYTHON
# A path of whoever calls would let another checkout be tested in place of this one.
unexport PYTHONPATH

.DEFAULT_GOAL := help
.PHONY: help demo test check long bench published mutants lock clean

help:
	@echo "make demo                 the whole job on invented ground, from draft to verdict: demo/out/index.html"
	@echo "make test                 make check, then every test but the long proofs"
	@echo "make check                format, lint, layers, types"
	@echo "make long                 the long proofs"
	@echo "make bench                measure speed, write benchmarks/results.json"
	@echo "make published FILE=...   run a file of published examples: N passed, N failed"
	@echo "make mutants              300 small faults, one at a time: which do the tests notice? docs/mutants.md"
	@echo "make lock                 write the lock files anew from pyproject.toml"
	@echo "make clean                remove .venv, caches and everything that was made"

# .ready holds the place it was made in; in a copied or moved tree it does not match and .venv is made anew.
ifneq ($(shell cat $(READY) 2>/dev/null),$(shell pwd -P))
.PHONY: $(READY)
endif
$(READY): requirements-dev.lock pyproject.toml scripts/prepare.sh
	@sh scripts/prepare.sh

demo: $(READY)
	@$(PY) -m demo.run

test: check
	@sh scripts/test.sh

check: $(READY)
	@sh scripts/check.sh

long: $(READY)
	@$(PY) -m pytest -n auto --dist worksteal -m long
	@$(PY) -m tests.editions.guard --open

bench: $(READY)
	@if [ -f benchmarks/run.py ]; then $(PY) -m benchmarks.run; \
	else echo "bench: there are no benchmarks yet (benchmarks/run.py), so nothing was measured"; exit 1; fi

published: $(READY)
	@if [ -z "$(FILE)" ]; then echo "published: name a file: make published FILE=examples.yaml"; exit 1; fi
	@if [ -f tests/published/run.py ]; then $(PY) -m tests.published.run "$(FILE)"; \
	else echo "published: the runner does not exist yet (tests/published/run.py), so nothing was checked"; exit 1; fi

mutants: $(READY)
	@PYTHONPATH=src:. $(PY) -m builders.mutants

lock:
	@sh scripts/lock.sh

clean:
	rm -rf .venv .hypothesis .pytest_cache .mypy_cache .ruff_cache .import_linter_cache build dist demo/out
	find . -name __pycache__ -type d -not -path './.git/*' -prune -exec rm -rf {} +
