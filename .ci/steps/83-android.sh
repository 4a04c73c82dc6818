# The Android sample without an Android SDK: its screens and presenters are compiled against Compose's desktop artifacts, drawn, and
# walked through with the real library. Those artifacts ask for a few of androidx, which Google's repository alone serves: where
# it cannot be reached, the step is skipped and says so.
# after: bindings kotlin kotlin-jar
set -euo pipefail
. .ci/build.sh
. .ci/java.sh
if grep -rq 'permission.INTERNET' android-sample/app/src; then
    echo "the app asks for the network" >&2
    exit 1
fi
get=org.apache.maven.plugins:maven-dependency-plugin:3.8.1:get
needed=androidx.collection:collection-jvm:1.5.0
if ! mvn -q -B "$get" -Dartifact="$needed" -DremoteRepositories=https://maven.google.com -Dtransitive=false >/dev/null 2>&1; then
    echo "skipped: Maven cannot get $needed, so nothing of the Android sample is compiled or run"
    exit 77
fi
# The pictures are drawn in the typeface that most phones have; without it they are drawn, and not compared.
if [ ! -d /usr/share/fonts/truetype/roboto/unhinted ] && [ "$(id -u)" -eq 0 ] && command -v apt-get >/dev/null; then
    apt-get update -qq
    DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends fonts-roboto-unhinted fontconfig >/dev/null
fi
build
built="$CARGO_TARGET_DIR/android"
rm -rf "$built/surefire-reports" "$built/pictures"
checks() {
    mvn -q -B -f android-sample/checks/pom.xml -Debbstead.build="$built" -Debbstead.library="$debug" "-Dtest=$1" test
}
# The flows and the pictures apart: the drawing library itself crashes on some machines, and takes its whole virtual machine with it.
checks '!PicturesTest,!FlowTest'
flows="$(sed -n 's/^    fun \([A-Za-z]*\)(): Unit.*/\1/p' android-sample/app/src/test/kotlin/FlowTest.kt)"
crashed=0
# Flows NAME...: a few in one virtual machine; where that crashes, each in one of its own.
walk() {
    local names="$*"
    if checks "FlowTest#${names// /+}" >"$built/flows.txt" 2>&1; then
        mv "$built/surefire-reports/TEST-FlowTest.xml" "$built/surefire-reports/TEST-FlowTest-$1.xml"
    elif ! grep -q "Process Exit Code: 139" "$built/flows.txt"; then
        cat "$built/flows.txt"
        return 1
    elif [ $# -gt 1 ]; then
        local one
        for one in "$@"; do walk "$one" || return 1; done
    else
        echo "skipped: the flow $1: the drawing library crashed"
        crashed=$((crashed + 1))
    fi
}
set -- $flows
[ $# -gt 10 ]
while [ $# -gt 0 ]; do
    walk "${@:1:4}"
    shift $(($# < 4 ? $# : 4))
done
if [ "$crashed" -gt 3 ]; then
    echo "the drawing library crashed in $crashed flows: that is no accident any more" >&2
    exit 1
fi
python3 .ci/surefire.py "$built/surefire-reports"
drawing="$CARGO_TARGET_DIR/android-pictures.log"
if ! mvn -q -B -f android-sample/checks/pom.xml -Debbstead.build="$built" -Debbstead.library="$debug" \
    -Dtest=PicturesTest test >"$drawing" 2>&1; then
    if grep -q "Process Exit Code: 139" "$drawing"; then
        echo "skipped: pictures: the drawing library crashed, so they are not compared"
    else
        cat "$drawing"
        exit 1
    fi
fi
echo "pictures: $built/pictures"
