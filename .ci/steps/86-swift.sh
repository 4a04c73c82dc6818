# The Swift binding's tests and the iOS sample's, against the library that is shipped, the transcripts of its screens among them;
# and the app's own files as far as they can be looked at without an iPhone's libraries.
# after: bindings swift-root
set -euo pipefail
. .ci/build.sh
. .ci/steps/swift.sh

if ! swift_is_here && [ ! -e "$swift_root/.ebbstead-packages" ]; then
    echo "no Swift; see the step before"
    exit 77
fi
if ! swift_is_here && { [ "$(id -u)" -ne 0 ] || ! unshare --mount true 2>/dev/null; }; then
    echo "the Debian 13 tree can be entered by root only: the Swift tests are skipped"
    exit 77
fi

build
library="$debug"

# Two packages, one set of flags: where the library lies, when linking and when running.
swift_package() {
    local verb="$1" package="$2"
    shift 2
    with_swift swift "$verb" --quiet --package-path "$PWD/$package" --scratch-path "$CARGO_TARGET_DIR/swift/$package" \
        -Xlinker "-L$library" -Xlinker -rpath -Xlinker "$library" "$@"
}

# A package without a test would pass as well; the closing lines say how many ran.
tests() {
    local package="$1" log="$CARGO_TARGET_DIR/swift-tests.log"
    if ! swift_package test "$package" >"$log" 2>&1; then
        grep -E 'error|failed|Executed|warning: unre' "$log" | head -60
        return 1
    fi
    local ran
    ran="$(grep -oE 'Executed [0-9]+ tests?, with [0-9]+ failures?' "$log" | tail -1)"
    echo "$package: ${ran:-no test ran}"
    [ -n "$ran" ]
}
tests bindings/swift
tests ios-sample

# SwiftUI, HealthKit and Core Bluetooth are Apple's alone: those files are parsed, not compiled.
find ios-sample/App -name '*.swift' -print0 | xargs -0 -I{} echo "$PWD/{}" | {
    mapfile -t files
    with_swift swiftc -parse "${files[@]}"
    echo "parsed, not compiled: ${#files[@]} files of the app"
}
