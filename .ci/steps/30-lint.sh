# No warning from the compiler or clippy, in any target.
# after: build
set -euo pipefail
. .ci/build.sh
cargo clippy --locked --quiet "${everything[@]}" --all-targets -- -D warnings
echo "no warnings"
