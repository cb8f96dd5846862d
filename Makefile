# `make demo` runs the main job, `make test` passes the tests; both install what they need first.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check install --quiet
OUT ?= demo-season

.PHONY: demo run test lint unit browser bench golden pictures screens lock clean

demo: $(VENV)/run.stamp
	$(BIN)/bedwright demo --out $(OUT)

run: $(VENV)/run.stamp
	$(BIN)/bedwright serve

test: lint unit browser

lint: $(VENV)/dev.stamp
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports

unit: $(VENV)/dev.stamp
	$(BIN)/python -m pytest

# All tests in the browser (BEDWRIGHT_CHROMIUM names another place of it); without one they are skipped,
# and it is said.
browser: $(VENV)/dev.stamp
	$(BIN)/python -m pytest tests/browser -m browser

bench: $(VENV)/dev.stamp
	$(BIN)/python -m benchmarks

# Renews the golden files (our own output, kept to see what a change moves).
golden: $(VENV)/dev.stamp
	$(BIN)/python -m pytest tests/golden --renew-golden

# Pictures of every page, to be looked at; SCREENS says where to.
SCREENS ?= demo-screens
screens: $(VENV)/dev.stamp
	$(BIN)/python -m tests.browser.screens $(SCREENS)

# Renews the README's pictures; needs pdftoppm (Debian: poppler-utils) and Chromium.
pictures: demo $(VENV)/dev.stamp
	$(BIN)/python -m tests.browser.screens --readme docs/pictures
	pdftoppm -r 80 -f 5 -l 5 -gray -png -singlefile $(OUT)/planting-plan.pdf docs/pictures/planting-plan
	pdftoppm -r 80 -f 2 -l 2 -gray -png -singlefile $(OUT)/bed-sheets.pdf docs/pictures/bed-sheet
	pdftoppm -r 80 -f 5 -l 5 -gray -png -singlefile $(OUT)/cards.pdf docs/pictures/card
	pdftoppm -r 60 -f 1 -l 1 -gray -png -singlefile $(OUT)/labels.pdf docs/pictures/labels

# Renews the locked, hashed lists of packages; needs uv. The shorter list holds the same versions as the longer.
LOCK := uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-emit-index-url --no-header
lock:
	$(LOCK) --group dev pyproject.toml -o requirements/dev.txt
	$(LOCK) --group build -c requirements/dev.txt pyproject.toml -o requirements/run.txt

$(VENV)/run.stamp: requirements/run.txt pyproject.toml
	test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	$(PIP) --require-hashes -r requirements/run.txt
	$(PIP) --no-deps --no-build-isolation -e .
	$(BIN)/python -m bedwright.service.first_run
	touch $@

$(VENV)/dev.stamp: requirements/dev.txt $(VENV)/run.stamp
	$(PIP) --require-hashes -r requirements/dev.txt
	touch $@

clean:
	rm -rf $(VENV) $(OUT) $(SCREENS) .mypy_cache .pytest_cache .ruff_cache .hypothesis .import_linter_cache
