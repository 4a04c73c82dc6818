# What core writes as FHIR R4 is held against HL7's JSON schema and two libraries; what a library writes is read by core.
# after: build python
set -euo pipefail
. .ci/build.sh
build
cases="$debug/fhir-cases"
if [ -x "$CI_VENV/bin/python" ]; then
    "$CI_VENV/bin/python" tests/reference/fhir_reference.py "$cases"
else
    echo "no Python environment, so no check with its FHIR library; see the step before"
fi
if ! command -v npm >/dev/null; then
    echo "npm is missing, so no check with the JSON schema; install Node.js"
    exit 77
fi
place="$CARGO_TARGET_DIR/ci-fhir"
mkdir -p "$place"
if ! cmp -s tests/reference/fhir/package-lock.json "$place/package-lock.json" || [ ! -d "$place/node_modules" ]; then
    cp tests/reference/fhir/package.json tests/reference/fhir/package-lock.json "$place"
    npm ci --prefix "$place" --ignore-scripts --no-audit --no-fund --silent
fi
"$cases" write >"$place/bundle.json"
cp tests/reference/fhir/validate.js "$place"
node "$place/validate.js" "$place/bundle.json"
