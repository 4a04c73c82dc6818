# A second processor: the tests of engine and log on 64-bit ARM, emulated, and the same records with the same answers, to the letter: what
# is said of the invented day, what every binding must answer, and logs that were frozen on another machine.
# after: tests
set -euo pipefail
. .ci/build.sh
if [ -z "${EBBSTEAD_LONG:-}" ]; then
    echo "skipped: it builds everything for another processor; EBBSTEAD_LONG=1 runs it"
    exit 77
fi
if [ "$(uname -m)" = aarch64 ]; then
    echo "skipped: this is an ARM machine; the tests ran on it"
    exit 77
fi
target=aarch64-unknown-linux-gnu
for program in qemu-aarch64 aarch64-linux-gnu-gcc; do
    if ! command -v "$program" >/dev/null; then
        echo "skipped: $program is not there (Debian: qemu-user, gcc-aarch64-linux-gnu, libc6-dev-arm64-cross)"
        exit 77
    fi
done
if ! rustup target add "$target" >/dev/null 2>&1; then
    echo "skipped: rustup cannot fetch $target"
    exit 77
fi
export CARGO_TARGET_AARCH64_UNKNOWN_LINUX_GNU_LINKER=aarch64-linux-gnu-gcc
# One selection for all of them, since another one would build dependencies again; then each program by itself.
programs="$(cargo test --locked "${everything[@]}" --lib --test store --test facade --test bindings --test outside --target "$target" \
    --target-dir "$CARGO_TARGET_DIR/arm" --no-run --message-format json |
    python3 -c 'import json, sys
for one in map(json.loads, sys.stdin):
    if one.get("executable") and one["profile"]["test"]:
        print(one["target"]["name"], one["executable"])')"
log="$CARGO_TARGET_DIR/ci-arm.log"
: >"$log"
on_arm() {
    local program
    program="$(awk -v name="$1" '$1 == name { print $2 }' <<<"$programs")"
    shift
    qemu-aarch64 -L /usr/aarch64-linux-gnu "$program" "$@" 2>&1 | tee -a "$log" | grep -vE '^(test .* ok|running [0-9]+ tests?|)$'
    return "${PIPESTATUS[0]}"
}
on_arm ebbstead_engine
on_arm ebbstead_log
(cd core/log && on_arm store store_layout::)
(cd core/app && on_arm facade csv:: bluetooth::)
(cd bindings/ffi && on_arm bindings parity::)
(cd tests && on_arm outside replay_golden:: published:: situations::)
awk '/^test result:/ { passed += $4; failed += $6 }
    END { printf "on 64-bit ARM: %d passed, %d failed\n", passed, failed; exit passed < 100 || failed > 0 }' "$log"
