# The patterns' permutation test against SciPy's on invented records.
# after: build python
set -euo pipefail
. .ci/build.sh
if [ ! -x "$CI_VENV/bin/python" ]; then
    echo "no Python environment; see the step of that name"
    exit 77
fi
work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
build
"$debug/pattern-cases" "$work/cases.json"
"$CI_VENV/bin/python" tests/reference/patterns_reference.py "$work/cases.json"
