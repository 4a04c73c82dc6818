# The committed Kotlin, Swift and Python are what the generator writes from the library as it is now.
# after: build
set -euo pipefail
bash bindings/generate.sh 2>&1 | grep -v '^writing'
if [ -n "$(git status --porcelain -- bindings/kotlin/src/main bindings/swift/Sources/Ebbstead bindings/swift/Sources/EbbsteadFFI/include bindings/python/ebbstead.py)" ]; then
    git --no-pager diff --stat -- bindings
    echo "the committed bindings are not these; run bindings/generate.sh and commit what it writes" >&2
    exit 1
fi
echo "no difference"
