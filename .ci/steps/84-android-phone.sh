# What is Android's alone in the sample: the activity, the service that watches, the notifications and their answers. Compiled against
# the framework jar and androidx archives, and run by Robolectric with the real library. Where Maven cannot get the archives
# from Google's repository, the step is skipped and says so.
# after: bindings android
set -euo pipefail
. .ci/build.sh
. .ci/java.sh
built="$CARGO_TARGET_DIR/android-phone"
if ! mvn -q -B -f android-sample/checks/pom.xml -P archives -Debbstead.build="$built" initialize >"$CARGO_TARGET_DIR/android-archives.log" 2>&1; then
    echo "skipped: Maven cannot get the androidx archives, so the service and the notifications are neither compiled nor run"
    exit 77
fi
if ! command -v aapt2 >/dev/null; then
    if [ "$(id -u)" -eq 0 ] && command -v apt-get >/dev/null; then
        apt-get update -qq
        DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends aapt >/dev/null
    else
        echo "skipped: needs aapt2 for the manifest and the resources; install aapt, or run this as root"
        exit 77
    fi
fi
bash android-sample/checks/resources.sh "$built" 2>"$CARGO_TARGET_DIR/android-resources.log" || { cat "$CARGO_TARGET_DIR/android-resources.log"; exit 1; }
build
rm -rf "$built/surefire-reports"
mvn -q -B -f android-sample/checks/pom.xml -P phone -Debbstead.build="$built" -Debbstead.library="$debug" test
python3 .ci/surefire.py "$built/surefire-reports"
