# The Python bindings, against the library just built.
set -euo pipefail
if [ ! -x "$CI_VENV/bin/python" ]; then
    echo "skipped: no Python environment; see the step 60-python"
    exit 77
fi
cargo build --quiet --locked -p ebbstead-ffi --features generator
"$CI_VENV/bin/python" -m pip install --quiet --disable-pip-version-check pytest==8.4.2
EBBSTEAD_LIBRARY="$CARGO_TARGET_DIR/debug" "$CI_VENV/bin/python" -m pytest -q -p no:cacheprovider bindings/python/tests
