# Bluetooth characteristics laid out by Python's struct and a CRC library, read and written by core.
# after: build python
set -euo pipefail
. .ci/build.sh
if [ ! -x "$CI_VENV/bin/python" ]; then
    echo "no Python environment; see the step before"
    exit 77
fi
build
"$CI_VENV/bin/python" tests/reference/bluetooth_reference.py "$debug/bluetooth-cases"
