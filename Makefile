# Two commands for a newcomer: `make demo` and `make test`.
PYTHON ?= python3
VENV   := .venv
BIN    := $(VENV)/bin

.PHONY: install demo test lint bench screens lock clean

# The environment with everything that running needs, the speech model's packages included.
install: $(VENV)/.installed

$(VENV)/.installed: requirements.lock pyproject.toml
	@$(PYTHON) -c 'import sys; sys.exit(0 if sys.version_info >= (3, 11) else "hatchnote needs Python 3.11 or newer; set PYTHON=/path/to/python3.11")'
	@test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	@touch $@

# What tests and measurements need on top.
$(VENV)/.installed-test: $(VENV)/.installed requirements-test.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements-test.lock
	@touch $@

# Verify the speech model, load the sample scenario by transcribing its sound, serve it.
demo: install
	$(BIN)/hatchnote models verify
	$(BIN)/hatchnote demo

# Everything: types, style, vendored files, tests.
test: $(VENV)/.installed-test
	$(BIN)/ruff check .
	$(BIN)/mypy
	$(BIN)/python pwa/check_vendor.py
	$(BIN)/python -m pytest

lint: $(VENV)/.installed-test
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

# What is measured, and the last figures: see benchmarks/README.md.
bench: $(VENV)/.installed-test
	@sed -n '/^## Commands/,$$p' benchmarks/README.md

# Pictures of every page into docs/screens/.
screens: $(VENV)/.installed-test
	$(BIN)/python tools/screens.py

# Lock files with hashes; run after a change of dependencies in pyproject.toml.
lock:
	$(BIN)/python -m pip install --quiet uv
	$(BIN)/uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-annotate --no-header -o requirements.lock pyproject.toml requirements-build.in
	$(BIN)/uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-annotate --no-header --extra test -c requirements.lock -o requirements-test.lock pyproject.toml requirements-build.in

clean:
	rm -rf $(VENV) .mypy_cache .ruff_cache .pytest_cache htmlcov .coverage
