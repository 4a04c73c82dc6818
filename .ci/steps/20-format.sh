# Every Rust file is as rustfmt writes it.
set -euo pipefail
cargo fmt --all -- --check
echo "formatted"
