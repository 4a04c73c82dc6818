# The library as a phone carries it, with SQLite in it, stays small. The limit is for x86-64; other processors' code differs.
set -euo pipefail
limit=3400000
if [ "$(uname -sm)" != "Linux x86_64" ]; then
    echo "skipped: the limit is for Linux on x86-64"
    exit 77
fi
size="$(stat -c %s "$(bash bindings/phone-library.sh)")"
echo "$size bytes of at most $limit"
[ "$size" -lt "$limit" ]
