#!/usr/bin/env bash
# Builds the shared library as a phone carries it, and says where it is. Alone: built together with the crate's other kinds it
# would not be optimised across crates.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
export CARGO_TARGET_DIR="${CARGO_TARGET_DIR:-$PWD/target}"
cargo rustc --quiet --locked --profile phone -p ebbstead-ffi --lib --crate-type cdylib
echo "$CARGO_TARGET_DIR/phone/libebbstead_ffi.so"
