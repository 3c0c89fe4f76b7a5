# Every command sets up what it needs; a second run finds it there.
PYTHON ?= python3
BIN    := .venv/bin
UV     := $(BIN)/uv
UV_VERSION := 0.13.9

.DEFAULT_GOAL := help
.PHONY: help setup demo serve test test-generators test-engines test-browser test-prometheus test-slow check openapi map coverage examples sdk container bench sizes interview mutation torture endurance audit sbom lock

help:  ## what can be made
	@grep -hE '^[a-z-]+:.*##' $(MAKEFILE_LIST) | sed -E 's/:[^#]*##/\t/' | expand -t 18

setup: .venv/ready  ## the .venv with the locked packages, the service and the SDK

.venv/ready: requirements-dev.lock pyproject.toml sdk/pyproject.toml
	$(PYTHON) -m venv .venv
	$(BIN)/pip install --quiet uv==$(UV_VERSION)
	$(UV) pip sync --quiet --python $(BIN)/python --require-hashes requirements-dev.lock
	$(UV) pip install --quiet --python $(BIN)/python --no-deps --no-build-isolation --editable . --editable sdk
	@touch $@

demo: setup  ## a morning's intake of an invented fleet, checked over HTTP
	@cd sdk && ../$(BIN)/python -m examples.morning_intake

serve: setup  ## the service on http://127.0.0.1:8340
	$(BIN)/mendgauge serve

test: setup  ## every test that Python alone can run
	$(BIN)/pytest --numprocesses auto --dist worksteal

.venv-generators/ready: .venv/ready requirements-generators.lock
	$(PYTHON) -m venv --without-pip .venv-generators
	$(UV) pip sync --quiet --python .venv-generators/bin/python --require-hashes requirements-generators.lock
	@touch $@

test-generators: setup .venv-generators/ready  ## the document's style, and clients generated from it in other languages (Node 20 or newer)
	@command -v npm > /dev/null || { echo "Install Node 20 or newer with npm first (Debian: nodejs, npm)." >&2; exit 1; }
	$(BIN)/pytest tests/contract -m generators

test-engines: .venv-engines/ready  ## the examples of many cases, on Spark and on Dask (a Java runtime, 17 or newer; 1 GB of packages)
	@command -v java > /dev/null || { echo "Install a Java runtime first (Debian: default-jre-headless)." >&2; exit 1; }
	.venv-engines/bin/pytest tests/engines -m engines

.venv-engines/ready: requirements-engines.lock .venv/ready
	$(PYTHON) -m venv .venv-engines
	$(UV) pip sync --quiet --python .venv-engines/bin/python --require-hashes requirements-engines.lock
	$(UV) pip install --quiet --python .venv-engines/bin/python --no-deps --editable .
	@touch $@

# The one program of Debian's package, without the server that it would start.
.promtool/usr/bin/promtool:
	@command -v apt-get > /dev/null || { echo "Install Prometheus' promtool first (Debian: prometheus)." >&2; exit 1; }
	@mkdir -p .promtool
	cd .promtool && apt-get download --quiet --quiet prometheus && dpkg-deb --fsys-tarfile prometheus_*.deb | tar -x ./usr/bin/promtool
	@rm .promtool/prometheus_*.deb

test-prometheus: setup $(if $(shell command -v promtool),,.promtool/usr/bin/promtool)  ## the alerts and the dashboard, by promtool and by Grafana's types (npm)
	@command -v npm > /dev/null || { echo "Install Node 20 or newer with npm first (Debian: nodejs, npm)." >&2; exit 1; }
	$(BIN)/pytest tests/prometheus -m prometheus

test-browser: setup  ## the pages in headless Chromium, by npm packages (Node 20 or newer)
	@command -v npm > /dev/null || { echo "Install Node 20 or newer with npm first (Debian: nodejs, npm)." >&2; exit 1; }
	@command -v chromium > /dev/null || { echo "Install Chromium first (Debian: chromium)." >&2; exit 1; }
	cd tests/browser && npm ci --prefer-offline --no-progress --no-fund --no-audit && node --test --test-concurrency=1

test-slow: setup  ## the properties at length
	$(BIN)/pytest tests/property --hypothesis-profile=long -m 'slow or not slow' --numprocesses auto --dist worksteal

check: setup  ## ruff, mypy --strict, import-linter, nothing that breaks callers of the last release
	$(BIN)/ruff format --check
	$(BIN)/ruff check
	$(BIN)/mypy
	$(BIN)/lint-imports --no-cache
	$(BIN)/python -m mendgauge_client.contract.compat.released openapi/released openapi/openapi.json

openapi: setup  ## openapi/openapi.json and openapi/arrow.md from the code
	$(BIN)/mendgauge openapi > openapi/openapi.json
	$(BIN)/python -m mendgauge.bulk > openapi/arrow.md

map: setup  ## the map of the service and the table of its caches in DEVELOPERS.md, from the code
	$(BIN)/python tests/unit/test_map.py
	$(BIN)/python tests/unit/test_caches.py

coverage: setup  ## the table of what each rulebook covers
	$(BIN)/mendgauge coverage > service/mendgauge/rulebooks/COVERAGE.md

examples: setup  ## the answers of the golden examples, written anew
	$(BIN)/python tests/contract/test_golden.py

container: setup  ## the images built, run and tried on a machine without an image registry (as root)
	docker/try.sh

sdk: openapi  ## the Python client from openapi/openapi.json
	$(BIN)/python sdk/generate.py

bench: setup  ## speed, as ratios in one run
	$(BIN)/python -m tests.bench

sizes: setup  ## bytes of a brief answer, for the golden cases in every book
	@$(BIN)/python -m tests.bench.sizes

interview: setup  ## how many questions it takes until it is clear what to do: the demo's fleet, 1,000 phone calls
	@$(BIN)/python -m tests.bench.interview

torture: setup  ## the worst that callers can do, in one table: 200,000 fuzzed bodies, odd clients (5 minutes, loopback)
	$(BIN)/python -m tests.torture

endurance: setup  ## whole batches, stalled readers, weeks of markings, 200 stops under load (half an hour)
	$(BIN)/python -m tests.torture.endurance

mutation: setup  ## mutation testing of the rules and quantities (half an hour)
	tests/mutation/run.sh

audit: setup  ## known weaknesses in the locked packages, as far as an advisory service can be asked
	$(BIN)/python tests/audit.py $(sort $(wildcard requirements*.lock)) openapi/package-lock.json $(sort $(wildcard tests/*/package-lock.json))

sbom: setup  ## dist/sbom.json: what the service consists of, in CycloneDX
	@mkdir -p dist
	$(BIN)/cyclonedx-py requirements requirements-print.lock --pyproject pyproject.toml --output-reproducible \
	    --output-format JSON --output-file dist/sbom.json

lock: setup  ## the hashed requirements, from pyproject.toml
	$(UV) pip compile --quiet --universal --generate-hashes --python-version 3.11 --no-emit-index-url \
	    --custom-compile-command "make lock" --excludes requirements-excluded.txt pyproject.toml -o requirements.lock
	$(UV) pip compile --quiet --universal --generate-hashes --python-version 3.11 --no-emit-index-url \
	    --custom-compile-command "make lock" --excludes requirements-excluded.txt -c requirements.lock --extra print \
	    pyproject.toml -o requirements-print.lock
	$(UV) pip compile --quiet --universal --generate-hashes --python-version 3.11 --no-emit-index-url \
	    --custom-compile-command "make lock" -c requirements-print.lock --group dev pyproject.toml -o requirements-dev.lock
	$(UV) pip compile --quiet --universal --generate-hashes --python-version 3.11 --no-emit-index-url \
	    --custom-compile-command "make lock" -c requirements-dev.lock --group generators -o requirements-generators.lock
	$(UV) pip compile --quiet --universal --generate-hashes --python-version 3.11 --no-emit-index-url \
	    --custom-compile-command "make lock" -c requirements-dev.lock --group engines pyproject.toml \
	    -o requirements-engines.lock
