# The Android sample without an Android SDK: compiles all of it against the framework, runs its presenters with the real
# library, and draws its Views to pictures.
set -euo pipefail
. .ci/java.sh
if grep -rq 'permission.INTERNET' android-sample/app/src; then
    echo "the app asks for the network" >&2
    exit 1
fi
cargo build --quiet --locked -p ebbstead-ffi --features generator
mvn -q -B -f android-sample/checks/pom.xml -Debbstead.build="$CARGO_TARGET_DIR/android" -Debbstead.library="$CARGO_TARGET_DIR/debug" test
python3 .ci/surefire.py "$CARGO_TARGET_DIR/android/surefire-reports"
echo "pictures: $CARGO_TARGET_DIR/android/pictures"
