# No warning from the compiler or clippy, in any target.
set -euo pipefail
cargo clippy --workspace --all-targets --locked --quiet -- -D warnings
echo "no warnings"
