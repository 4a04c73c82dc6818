# The documentation builds without a warning, private items included: contributors read those.
set -euo pipefail
RUSTDOCFLAGS="-D warnings" cargo doc --workspace --no-deps --locked --quiet --document-private-items
echo "documented"
