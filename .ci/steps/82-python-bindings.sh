# The Python bindings, against the library just built; then the wheel, from which the read-me's start and the example in pandas are run.
# after: python bindings dependencies
set -euo pipefail
. .ci/build.sh
if [ ! -x "$CI_VENV/bin/python" ]; then
    echo "skipped: no Python environment; see the step 60-python"
    exit 77
fi
build
"$CI_VENV/bin/python" -m pip install --quiet --disable-pip-version-check pytest==8.4.2
EBBSTEAD_LIBRARY="$debug" "$CI_VENV/bin/python" -m pytest -q -p no:cacheprovider bindings/python/tests

made="$CARGO_TARGET_DIR/wheel"
rm -rf "$made"
[ -e "$CARGO_TARGET_DIR/parts/licences.txt" ] || python3 .ci/parts.py "$CARGO_TARGET_DIR/parts" >/dev/null
"$CI_VENV/bin/python" bindings/python/wheel.py "$debug" "$made" "$CARGO_TARGET_DIR/parts/licences.txt"
"$CI_VENV/bin/python" -m pip install --quiet --disable-pip-version-check --no-index --no-deps --target "$made/installed" "$made"/*.whl
# The first block of Python in the read-me, in a folder of its own, for it makes a log.
sed -n '/^```python$/,/^```$/{/^```/d;p}' bindings/python/README.md >"$made/start.py"
for script in "$made/start.py" "$PWD/bindings/python/examples/fortnight.py"; do
    if ! (cd "$made" && PYTHONPATH="$made/installed" "$CI_VENV/bin/python" "$script" >"$made/said.txt"); then
        cat "$made/said.txt"
        exit 1
    fi
    [ -s "$made/said.txt" ]
    echo "$(basename "$script") says $(wc -l <"$made/said.txt") lines"
done
