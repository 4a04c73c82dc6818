# The Android sample without an Android SDK: compiles all of it against the framework, and runs its presenters with the real
# library.
set -euo pipefail
. .ci/java.sh
if grep -rq 'permission.INTERNET' android-sample/app/src; then
    echo "the app asks for the network" >&2
    exit 1
fi
cargo build --quiet --locked -p ebbstead-ffi --features generator
rm -rf "$CARGO_TARGET_DIR/android/surefire-reports"
mvn -q -B -f android-sample/checks/pom.xml -Debbstead.build="$CARGO_TARGET_DIR/android" -Debbstead.library="$CARGO_TARGET_DIR/debug" test
python3 .ci/surefire.py "$CARGO_TARGET_DIR/android/surefire-reports"
