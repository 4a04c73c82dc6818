# The Kotlin bindings on the JVM, against the library just built; in one test it panics on purpose.
# after: bindings
set -euo pipefail
. .ci/java.sh
. .ci/build.sh
build
rm -rf "$CARGO_TARGET_DIR/kotlin/surefire-reports"
EBBSTEAD_FAULTS=1 mvn -q -B -f bindings/kotlin/pom.xml -Debbstead.build="$CARGO_TARGET_DIR/kotlin" -Debbstead.library="$debug" \
    -Debbstead.without= test
python3 .ci/surefire.py "$CARGO_TARGET_DIR/kotlin/surefire-reports"
[ -s "$CARGO_TARGET_DIR/kotlin/surefire-reports/TEST-PanicTest.xml" ]
