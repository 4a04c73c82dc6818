#!/usr/bin/env bash
# Builds EbbsteadFFI.xcframework for iPhone and simulator. It needs a Mac with Xcode, and:
#   rustup target add aarch64-apple-ios aarch64-apple-ios-sim
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")"
root="$(cd ../.. && pwd)"
target="${CARGO_TARGET_DIR:-$root/target}"
headers="$PWD/Sources/EbbsteadFFI/include"
export IPHONEOS_DEPLOYMENT_TARGET=17.0

libraries=()
for triple in aarch64-apple-ios aarch64-apple-ios-sim; do
    cargo rustc --manifest-path "$root/Cargo.toml" --locked --profile phone -p ebbstead-ffi --lib --crate-type staticlib --target "$triple"
    libraries+=(-library "$target/$triple/phone/libebbstead_ffi.a" -headers "$headers")
done
rm -rf EbbsteadFFI.xcframework
xcodebuild -create-xcframework "${libraries[@]}" -output EbbsteadFFI.xcframework
