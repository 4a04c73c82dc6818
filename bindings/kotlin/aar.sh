#!/usr/bin/env bash
# Lays out an Android archive of the generated Kotlin and the library: `aar.sh NATIVE_FOLDER OUT_FOLDER [LICENCES]`, and says where it is.
#
# NATIVE_FOLDER holds a folder for each processor by Android's name (arm64-v8a, x86_64) with libebbstead_ffi.so in it, as
# `cargo ndk -o NATIVE_FOLDER` leaves them; the Android sample's Gradle task cargoNdk is that command. LICENCES is the file of that name which
# .ci/parts.py writes. The layout is that of "AAR file" in Android's documentation on libraries.
set -euo pipefail
native="$1" out="$2" licences="${3:-}"
. "$(dirname "${BASH_SOURCE[0]}")/built.sh"

shopt -s nullglob
libraries=("$native"/*/libebbstead_ffi.so)
if [ ${#libraries[@]} -eq 0 ]; then
    echo "$native: no folder of a processor with libebbstead_ffi.so in it" >&2
    exit 66
fi

compile
stage="$(mktemp -d)"
trap 'rm -rf "$stage"' EXIT
mkdir -p "$stage/aar/META-INF" "$stage/classes" "$out"
# What loads the library from within a jar is no use on a phone, which has its own place for it.
cp -R "$built/classes/." "$stage/classes/"
find "$stage/classes" -name 'LibraryInside*.class' -delete
jar --create --file "$stage/aar/classes.jar" -C "$stage/classes" .
for library in "${libraries[@]}"; do
    processor="$(basename "$(dirname "$library")")"
    mkdir -p "$stage/aar/jni/$processor"
    cp "$library" "$stage/aar/jni/$processor/"
done
cat >"$stage/aar/AndroidManifest.xml" <<'XML'
<manifest xmlns:android="http://schemas.android.com/apk/res/android" package="ebbstead.library">
    <uses-sdk android:minSdkVersion="33" />
</manifest>
XML
# It has no resources, and the build of an app asks for the list of them all the same.
: >"$stage/aar/R.txt"
# JNA and the bindings find each other by name.
cat >"$stage/aar/proguard.txt" <<'RULES'
-keep class com.sun.jna.** { *; }
-keep class ebbstead.** { *; }
-dontwarn java.awt.**
RULES
licences_into "$stage/aar/META-INF" "$licences"
aar="$out/ebbstead-android-$version.aar"
jar --create --no-manifest --file "$aar" -C "$stage/aar" .
echo "$aar"
