#!/usr/bin/env bash
# Mutation testing of the rules and the quantities: `make mutation`. Takes about half an hour; prints the share of mutants
# that a test notices. The tool wants the sources under src/, so it works on a copy, with a virtual environment of its own.
set -euo pipefail
cd "$(dirname "$0")/../.."
work=${MUTATION_DIR:-.mutation}
mkdir -p "$work/mutants/src"
rm -rf "$work/src" "$work/tests"
cp -r service "$work/src"
cp -r tests "$work/tests"
cat > "$work/pyproject.toml" <<'TOML'
[tool.pytest.ini_options]
addopts = ["--import-mode=importlib", "-p", "no:cacheprovider"]
pythonpath = ["."]

[tool.mutmut]
source_paths = ["src"]
only_mutate = ["src/mendgauge/rules/*", "src/mendgauge/core/interval.py", "src/mendgauge/facts/neighbours.py"]
pytest_add_cli_args = ["-p", "tests.mutation.fresh", "-x"]
pytest_add_cli_args_test_selection = [
    "tests/reference/test_cases.py",
    "tests/unit/test_quantity.py",
    "tests/unit/test_rules.py",
    "tests/unit/limits",
    "tests/unit/test_findings.py",
    "tests/unit/test_near_limit.py",
    "tests/unit/test_crown.py",
    "tests/reference/geometry",
    "tests/reference/test_service_limits.py",
    "tests/unit/test_house_rules.py",
    "tests/unit/test_layout.py",
]
also_copy = ["tests"]
TOML
cp requirements-dev.lock "$work/"
if [ ! -x "$work/.venv/bin/mutmut" ]; then
    python3 -m venv "$work/.venv"
    .venv/bin/uv pip sync --quiet --python "$work/.venv/bin/python" --require-hashes requirements-dev.lock
    .venv/bin/uv pip install --quiet --python "$work/.venv/bin/python" mutmut==3.8.1
fi
cd "$work"
PYTHONPATH="$PWD/mutants/src:$PWD/mutants" .venv/bin/mutmut run --max-children "${MUTATION_CHILDREN:-2}" | tr '\r' '\n' | tail -n 3
PYTHONPATH="$PWD/mutants/src:$PWD/mutants" .venv/bin/mutmut export-cicd-stats
.venv/bin/python - <<'PY'
import json

stats = json.load(open("mutants/mutmut-cicd-stats.json"))
caught = stats["killed"] + stats["timeout"] + stats["suspicious"]
print(f"{caught} of {stats['total']} mutants noticed: {caught / stats['total']:.1%}")
PY
