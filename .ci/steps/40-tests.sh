# Unit, integration and documentation tests of every package.
# after: build
set -uo pipefail
. .ci/build.sh
log="$CARGO_TARGET_DIR/ci-tests.log"
mkdir -p "$CARGO_TARGET_DIR"
cargo test --locked "${everything[@]}" --no-fail-fast 2>&1 | tee "$log" | grep -vE '^(test .* ok|running [0-9]+ tests?|)$'
code=${PIPESTATUS[0]}
# What was looked for in the shared data and not found says so itself; repeat it where it is not overlooked.
grep -h '^skipped:' "$log" | sort -u
awk '/^test result:/ { passed += $4; failed += $6; ignored += $8 }
    END { printf "tests: %d passed, %d failed, %d ignored\n", passed, failed, ignored; exit passed == 0 }' "$log" || code=1
exit "$code"
