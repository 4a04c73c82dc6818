# The filter and the smoother against statsmodels, and the bank of modes against NumPy, on the same matrices.
# after: build python
set -euo pipefail
. .ci/build.sh
if [ ! -x "$CI_VENV/bin/python" ]; then
    echo "no Python environment; see the step before"
    exit 77
fi
work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
build
"$debug/filter-cases" "$work/cases.json"
"$CI_VENV/bin/python" tests/reference/filter_reference.py "$work/cases.json"
"$debug/mode-cases" "$work/modes.json"
"$CI_VENV/bin/python" tests/reference/modes_reference.py "$work/modes.json"
