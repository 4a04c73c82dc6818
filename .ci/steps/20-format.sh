# Every Rust file is as rustfmt writes it.
# after: tools
set -euo pipefail
cargo fmt --all -- --check
echo "formatted"
