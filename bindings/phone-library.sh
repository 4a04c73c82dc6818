#!/usr/bin/env bash
# Builds the shared library as a phone carries it, and says where it is. Alone: built together with the crate's other kinds it
# would not be optimised across crates.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
export CARGO_TARGET_DIR="${CARGO_TARGET_DIR:-$PWD/target}"
# Nothing unwinds through SQLite, so its C needs no tables for it; -Oz is what clang takes for this profile by itself, and gcc does not.
export CFLAGS="${CFLAGS:-} -fno-asynchronous-unwind-tables -fno-unwind-tables -Oz"
# A panic names its file: not where this machine keeps it. With frame pointers the tables for unwinding say of a function once where its
# frame is, and not after each push: some 130 KB less, and a crash report can follow them.
export RUSTFLAGS="${RUSTFLAGS:-} --remap-path-prefix=${CARGO_HOME:-$HOME/.cargo}/registry/src= -Cforce-frame-pointers=yes"
linker=()
if [ "$(uname -s)" = Linux ]; then
    # One copy of functions that compile to the same, and relocations packed (Android 11 or newer reads them, and glibc 2.36).
    linker=(-Clinker="$PWD/bindings/phone-link.sh" -Clink-arg=-Wl,--icf=all -Clink-arg=-Wl,-z,pack-relative-relocs)
fi
cargo rustc --quiet --locked --profile phone -p ebbstead-ffi --lib --crate-type cdylib -- ${linker[@]+"${linker[@]}"}
echo "$CARGO_TARGET_DIR/phone/libebbstead_ffi.so"
