#!/usr/bin/env bash
# What Android's build tools make of `res` and the manifest, for checks/pom.xml: a package for Robolectric, and R for the compiler.
# bash resources.sh BUILD, once the profile "archives" has brought the framework there. Needs aapt2.
set -euo pipefail
main="$(cd "$(dirname "${BASH_SOURCE[0]}")/../app/src/main" && pwd)"
made="$1/resources"
rm -rf "$made"
mkdir -p "$made/kotlin" "$made/test/com/android/tools"
# Gradle gives the package its name.
sed -e 's/<manifest /<manifest package="ebbstead.sample" /' -e 's/\(name\|targetActivity\)="\.phone/\1="ebbstead.sample.phone/' \
    "$main/AndroidManifest.xml" >"$made/AndroidManifest.xml"
aapt2 compile --dir "$main/res" -o "$made/compiled.zip"
aapt2 link -I "$1/archives/framework.jar" --manifest "$made/AndroidManifest.xml" --min-sdk-version 33 --target-sdk-version 35 \
    --output-text-symbols "$made/R.txt" -o "$made/resources.apk" "$made/compiled.zip"
{
    printf 'package ebbstead.sample\n\n@Suppress("ClassName", "unused")\nobject R {\n'
    awk '$2 != kind { if (kind) print "    }"; kind = $2; print "    object " kind " {" }
        { print "        const val " $3 " = " $4 }
        END { print "    }\n}" }' "$made/R.txt"
} >"$made/kotlin/R.kt"
printf 'android_custom_package=ebbstead.sample\nandroid_merged_manifest=%s\nandroid_resource_apk=%s\n' \
    "$made/AndroidManifest.xml" "$made/resources.apk" >"$made/test/com/android/tools/test_config.properties"
