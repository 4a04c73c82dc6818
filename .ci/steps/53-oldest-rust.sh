# The oldest Rust that Cargo.toml promises (rust-version). Clippy knows since when each function of the standard library is there, so
# the lint step holds the promise to most of what breaks it (incompatible_msrv); the compiler itself is asked in the long run, or
# where it is installed.
# after: lint
set -euo pipefail
. .ci/build.sh
oldest="$(sed -n 's/^rust-version = "\(.*\)"$/\1/p' Cargo.toml)"
if ! cargo "+$oldest" --version >/dev/null 2>&1; then
    if [ -z "${EBBSTEAD_LONG:-}" ]; then
        echo "skipped: Rust $oldest is not installed; the long run fetches it (rustup toolchain install $oldest --profile minimal)"
        exit 77
    fi
    if ! rustup toolchain install "$oldest" --profile minimal >/dev/null 2>&1; then
        echo "skipped: Rust $oldest cannot be fetched"
        exit 77
    fi
fi
cargo "+$oldest" check --quiet --locked "${everything[@]}" --target-dir "$CARGO_TARGET_DIR/oldest"
echo "Rust $oldest compiles it"
