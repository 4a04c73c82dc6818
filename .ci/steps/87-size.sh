# The library as a phone carries it, with SQLite in it, stays under 4.10 MB, and does what the tests of the Python bindings ask.
# The limit is for x86-64; other processors' code differs.
# after: python bindings build
set -euo pipefail
limit=4100000
if [ "$(uname -sm)" != "Linux x86_64" ]; then
    echo "skipped: the limit is for Linux on x86-64"
    exit 77
fi
library="$(bash bindings/phone-library.sh)"
size="$(stat -c %s "$library")"
echo "$size bytes of fewer than $limit"
[ "$size" -lt "$limit" ]
if [ -x "$CI_VENV/bin/python" ]; then
    EBBSTEAD_LIBRARY="$(dirname "$library")" "$CI_VENV/bin/python" -m pytest -q -p no:cacheprovider bindings/python/tests
else
    echo "no Python environment, so it was not tried; see the step 60-python"
fi
