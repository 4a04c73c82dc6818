#!/usr/bin/env bash
# Makes a jar of the generated Kotlin and the library: `jar.sh LIBRARY_FOLDER OUT_FOLDER [LICENCES]`, and says where it is.
#
# The library is taken as it was built: `bash bindings/phone-library.sh` builds the small one. The jar goes with the system and the
# processor of that library alone. LICENCES is the file of that name which .ci/parts.py writes: the texts of what the library is made
# with, which most of them ask to be passed on.
set -euo pipefail
library="$1" out="$2" licences="${3:-}"
. "$(dirname "${BASH_SOURCE[0]}")/built.sh"

# By the names JNA gives systems and processors.
case "$(uname -s)" in
    Darwin) system=darwin end=dylib ;;
    *) system=linux end=so ;;
esac
case "$(uname -m)" in
    arm64 | aarch64) processor=aarch64 ;;
    *) processor=x86-64 ;;
esac

compile
stage="$(mktemp -d)"
trap 'rm -rf "$stage"' EXIT
mkdir -p "$stage/ebbstead/library/$system-$processor" "$stage/META-INF" "$out"
cp "$library/libebbstead_ffi.$end" "$stage/ebbstead/library/$system-$processor/"
licences_into "$stage/META-INF" "$licences"
jar="$out/ebbstead-kotlin-$version-$system-$processor.jar"
jar --create --file "$jar" -C "$built/classes" . -C "$stage" .
echo "$jar"
