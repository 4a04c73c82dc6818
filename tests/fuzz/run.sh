#!/usr/bin/env bash
# Builds the targets with coverage counters and runs one under libFuzzer.
#
#   run.sh TARGET [libFuzzer's options]
#   run.sh --build
#   run.sh --built TARGET [libFuzzer's options]     takes what was built before: several may run at once
#
# Coverage counters come from LLVM, so stable Rust will do; the address sanitizer needs nightly and finds little in code without
# `unsafe`.
set -euo pipefail
here="$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)"
place="${CARGO_TARGET_DIR:-$here/../../target}/fuzz"
host="$(rustc -vV | sed -n 's/^host: //p')"
if [ "$1" = --built ]; then
    shift
else
    # The versions of the workspace; cargo adds libFuzzer's own to the copy.
    cp "$here/../../Cargo.lock" "$here/Cargo.lock"
    # A target named as such keeps the counters out of build scripts and macros.
    RUSTFLAGS="-Cpasses=sancov-module -Cllvm-args=-sanitizer-coverage-level=4 -Cllvm-args=-sanitizer-coverage-inline-8bit-counters \
-Cllvm-args=-sanitizer-coverage-pc-table -Cllvm-args=-sanitizer-coverage-trace-compares --cfg fuzzing" \
        cargo build --quiet --release --manifest-path "$here/Cargo.toml" --target "$host" --target-dir "$place"
fi
[ "$1" = --build ] && exit 0
target="$1"
shift
corpus="$place/corpus/$target"
mkdir -p "$corpus" "$place/artifacts/$target"
kept=("$here/seeds/$target")
[ -d "$here/found/$target" ] && kept+=("$here/found/$target")
EBBSTEAD_FUZZ="$target" "$place/$host/release/all" -artifact_prefix="$place/artifacts/$target/" "$@" "$corpus" "${kept[@]}"
