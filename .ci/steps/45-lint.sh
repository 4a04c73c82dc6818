# No warning from the compiler or clippy, in any target.
# after: tests
# Beside the tests it would keep Cargo to itself, and they would wait.
set -euo pipefail
. .ci/build.sh
cargo clippy --locked --quiet "${everything[@]}" --all-targets -- -D warnings
echo "no warnings"
