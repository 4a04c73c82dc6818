# What the program prints with --json, command by command, is as the schemas in bindings/terminal/schema say, and these are as the sources.
# after: build python
set -euo pipefail
if [ ! -x "$CI_VENV/bin/python" ]; then
    echo "no Python environment; see the step of that name"
    exit 77
fi
. .ci/build.sh
build
"$CI_VENV/bin/python" tests/reference/schema_reference.py "$debug/ebbstead"
