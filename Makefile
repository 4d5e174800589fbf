# Two commands do the job: make site, make test.

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
# One thread a process: the matrices here are small, and BLAS threads only get in each other's way.
export OPENBLAS_NUM_THREADS ?= 1
export OMP_NUM_THREADS ?= 1
export NO_MKDOCS_2_WARNING := 1
export PYTHONDONTWRITEBYTECODE := 1

.PHONY: help site serve check test bench audit browser clean pins

help:
	@echo "make site    check the records and build site/"
	@echo "make serve   serve the site while you edit records: http://localhost:8000/"
	@echo "make check   print every problem in the records"
	@echo "make test    every test, the browser's included"
	@echo "make bench   measure speed and size against the bars"
	@echo "make audit   Lighthouse and the HTML checker on the built site; needs Node and Java, and a quiet machine"
	@echo "make pins    renew requirements/*.txt from pyproject.toml"
	@echo "make clean   remove what make made"

site: $(VENV)/site.stamp
	$(BIN)/python -m generator build

serve: $(VENV)/site.stamp
	$(BIN)/python -m generator serve

check: $(VENV)/site.stamp
	$(BIN)/python -m generator check

# The site is built once and all tests look at it; they run in one process a core.
TESTED := build/tested
test: $(VENV)/test.stamp browser
	SOURCE_DATE_EPOCH=1767225600 $(BIN)/python -m generator build --out $(TESTED)
	ALMANAC_SITE=$(TESTED) $(BIN)/python -m pytest --numprocesses=auto --dist=worksteal

bench: $(VENV)/test.stamp
	$(BIN)/python -m tests.benchmarks

audit: $(VENV)/test.stamp browser
	$(BIN)/python -m generator build --out $(TESTED)
	tests/audit/run $(BIN)/python $(TESTED)

browser:
	@tests/browser/need_chromium

$(BIN)/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Cell Almanac needs Python 3.11 or newer; $(PYTHON) is older. Try: make PYTHON=python3.12 site"; exit 1; }
	@$(PYTHON) -m venv $(VENV) || { echo "Python's venv module is missing; on Debian: apt-get install python3-venv"; exit 1; }

$(VENV)/site.stamp: requirements/site.txt pyproject.toml | $(BIN)/python
	@echo "Installing what the site needs (about a minute the first time) ..."
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements/site.txt
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	@touch $@

$(VENV)/test.stamp: requirements/test.txt $(VENV)/site.stamp
	@echo "Installing what the tests need ..."
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements/test.txt
	@touch $@

pins: $(BIN)/python
	requirements/renew $(BIN)/python

clean:
	rm -rf $(VENV) site build .cache *.egg-info
