# The evaluation's baselines and statistics against scikit-learn, SciPy and NumPy, on invented traces.
# after: build python
set -euo pipefail
. .ci/build.sh
if [ ! -x "$CI_VENV/bin/python" ]; then
    echo "no Python environment; see the step before"
    exit 77
fi
work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
"$CI_VENV/bin/python" tests/reference/scores_reference.py make "$work/traces"
build
"$debug/evaluate" "$work/traces" --ask readings --json "$work/figures.json" >/dev/null
"$CI_VENV/bin/python" tests/reference/scores_reference.py compare "$work/traces" "$work/figures.json"
"$CI_VENV/bin/python" tests/reference/trees.py "$work/traces"
