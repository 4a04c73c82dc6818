# The Android sample's Views, drawn to pictures by the framework's own code under Robolectric. Robolectric needs one file that
# Maven Central lacks: where Google's repository cannot be reached either, the pictures are left out; the step before ran the rest.
set -euo pipefail
. .ci/java.sh
monitor=androidx.test:monitor:1.7.2:aar
get=org.apache.maven.plugins:maven-dependency-plugin:3.8.1:get
if ! mvn -q -B "$get" -Dartifact="$monitor" -DremoteRepositories=https://maven.google.com -Dtransitive=false >/dev/null 2>&1; then
    echo "skipped: Maven cannot get $monitor, so the Views are compiled but not drawn"
    exit 77
fi
cargo build --quiet --locked -p ebbstead-ffi --features generator
built="$CARGO_TARGET_DIR/android"
rm -rf "$built/pictures" "$built/picture-reports"
mvn -q -B -f android-sample/checks/pom.xml -P pictures -Debbstead.build="$built" -Debbstead.reports="$built/picture-reports" \
    -Debbstead.library="$CARGO_TARGET_DIR/debug" test
python3 .ci/surefire.py "$built/picture-reports"
echo "pictures: $built/pictures"
