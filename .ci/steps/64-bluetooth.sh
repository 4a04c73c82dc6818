# Bluetooth characteristics laid out by Python's struct and a CRC library, read and written by core.
set -euo pipefail
if [ ! -x "$CI_VENV/bin/python" ]; then
    echo "no Python environment; see the step before"
    exit 77
fi
cargo build --quiet --locked -p ebbstead-tests --bin bluetooth-cases
"$CI_VENV/bin/python" tests/reference/bluetooth_reference.py "$CARGO_TARGET_DIR/debug/bluetooth-cases"
