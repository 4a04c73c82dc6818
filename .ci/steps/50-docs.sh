# The documentation builds without a warning, private items included: contributors read those.
# after: build lint
set -euo pipefail
. .ci/build.sh
RUSTDOCFLAGS="-D warnings" cargo doc --no-deps --locked --quiet "${everything[@]}" --document-private-items
echo "documented"
