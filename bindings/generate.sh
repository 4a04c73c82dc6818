#!/usr/bin/env bash
# Writes the Kotlin, Swift and Python bindings anew from the built library. What it writes is committed; .ci/run fails where
# they differ. Never edit what it writes.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."
target="${CARGO_TARGET_DIR:-$PWD/target}"

# The selection of .ci/build.sh, so that nothing is built for this alone that the tests build otherwise.
export CARGO_TARGET_DIR="$target"
. .ci/build.sh
build
case "$(uname -s)" in Darwin) end=dylib ;; *) end=so ;; esac
# The generator reads what the macros left in the library, so it must not be stripped.
library="$target/debug/libebbstead_ffi.$end"

write() {
    "$target/debug/uniffi-bindgen" generate "$library" --no-format "$@"
}
write --language kotlin --out-dir bindings/kotlin/src/main/kotlin
write --language python --out-dir bindings/python
# Swift wants the header and the module map in a C target of their own.
work="$(mktemp -d)"
trap 'rm -rf "$work"' EXIT
write --language swift --out-dir "$work"
mkdir -p bindings/swift/Sources/Ebbstead bindings/swift/Sources/EbbsteadFFI/include
cp "$work/Ebbstead.swift" bindings/swift/Sources/Ebbstead/
cp "$work/EbbsteadFFI.h" bindings/swift/Sources/EbbsteadFFI/include/
cp "$work/EbbsteadFFI.modulemap" bindings/swift/Sources/EbbsteadFFI/include/module.modulemap
echo "bindings written"
