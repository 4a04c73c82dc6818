# The jar with the library inside: the start of bindings/kotlin/README.md is compiled and run with it and nothing else of the project.
# The Android archive: its layout, with this machine's library in the place of a phone's.
# after: kotlin dependencies
set -euo pipefail
. .ci/java.sh
. .ci/build.sh
build
made="$CARGO_TARGET_DIR/jar"
rm -rf "$made"
mkdir -p "$made/start" "$made/run" "$made/temporary"
[ -e "$CARGO_TARGET_DIR/parts/licences.txt" ] || python3 .ci/parts.py "$CARGO_TARGET_DIR/parts" >/dev/null
jar="$(bash bindings/kotlin/jar.sh "$debug" "$made" "$CARGO_TARGET_DIR/parts/licences.txt")"
sed -n '/^```kotlin$/,/^```$/{/^```/d;p}' bindings/kotlin/README.md >"$made/start/Start.kt"
# A dependency by its path, which is what is asked for, is warned of.
if ! mvn -q -B -f bindings/kotlin/pom.xml -P start -Debbstead.jar="$jar" -Debbstead.source="$made/start" -Debbstead.beside="$made/start" \
    -Debbstead.build="$made/built" compile \
    org.apache.maven.plugins:maven-dependency-plugin:3.8.1:build-classpath -Dmdep.outputFile="$made/classpath" >"$made/maven.txt" 2>&1; then
    cat "$made/maven.txt"
    exit 1
fi
# In a folder of its own, for it makes a log. Others may read and write what this makes, were the loader to leave it to that.
if ! (umask 000 && cd "$made/run" && java -Djava.io.tmpdir="$made/temporary" -cp "$made/built/classes:$(cat "$made/classpath")" StartKt) >"$made/said.txt"; then
    cat "$made/said.txt"
    exit 1
fi
[ -s "$made/said.txt" ]
if [ -n "$(ls -A "$made/temporary")" ]; then
    echo "the loader left behind: $(ls "$made/temporary")" >&2
    exit 1
fi
echo "$(basename "$jar"): $(stat -c %s "$jar") bytes; the read-me's start says $(wc -l <"$made/said.txt") lines"

mkdir -p "$made/native/x86_64"
cp "$debug/libebbstead_ffi.so" "$made/native/x86_64/"
aar="$(bash bindings/kotlin/aar.sh "$made/native" "$made" "$CARGO_TARGET_DIR/parts/licences.txt")"
for entry in AndroidManifest.xml classes.jar jni/x86_64/libebbstead_ffi.so R.txt proguard.txt META-INF/licences.txt; do
    jar --list --file "$aar" "$entry" | grep -qx "$entry" || { echo "$aar lacks $entry" >&2; exit 1; }
done
(cd "$made" && jar --extract --file "$aar" classes.jar)
jar --list --file "$made/classes.jar" >"$made/classes.txt"
grep -qx ebbstead/EbbsteadCompanion.class "$made/classes.txt"
if grep LibraryInside "$made/classes.txt"; then
    echo "the archive carries what only a jar needs" >&2
    exit 1
fi
if bash bindings/kotlin/aar.sh "$made/start" "$made" 2>/dev/null; then
    echo "an archive was made without a library" >&2
    exit 1
fi
echo "$(basename "$aar"): $(stat -c %s "$aar") bytes, laid out; no phone has loaded it"
