# The Kotlin bindings on the JVM, against the library just built.
set -euo pipefail
. .ci/java.sh
cargo build --quiet --locked -p ebbstead-ffi --features generator
mvn -q -B -f bindings/kotlin/pom.xml -Debbstead.build="$CARGO_TARGET_DIR/kotlin" -Debbstead.library="$CARGO_TARGET_DIR/debug" test
python3 .ci/surefire.py "$CARGO_TARGET_DIR/kotlin/surefire-reports"
