# The Kotlin bindings on the JVM, against the library just built.
set -euo pipefail
. .ci/java.sh
cargo build --quiet --locked -p ebbstead-ffi --features generator
kotlin_tests() {
    mvn -q -B -f bindings/kotlin/pom.xml -Debbstead.build="$CARGO_TARGET_DIR/kotlin" "$@" test
}
rm -rf "$CARGO_TARGET_DIR/kotlin/surefire-reports"
kotlin_tests -Debbstead.library="$CARGO_TARGET_DIR/debug"
python3 .ci/surefire.py "$CARGO_TARGET_DIR/kotlin/surefire-reports"

# Once more with a library in which one call panics; then the sound one is put back for the steps that follow.
faulty="$CARGO_TARGET_DIR/kotlin/faulty"
mkdir -p "$faulty"
cargo build --quiet --locked -p ebbstead-ffi --features generator,faults
cp "$CARGO_TARGET_DIR"/debug/libebbstead_ffi.* "$faulty"
cargo build --quiet --locked -p ebbstead-ffi --features generator
echo "with a library that panics on purpose:"
rm -rf "$faulty/reports"
RUST_BACKTRACE=0 kotlin_tests -Debbstead.library="$faulty" -Debbstead.with=faults -Debbstead.without= -Debbstead.reports="$faulty/reports"
python3 .ci/surefire.py "$faulty/reports"
