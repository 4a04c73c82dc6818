#!/usr/bin/env bash
# Times what the bindings cost from Kotlin, with the library as a phone carries it. Timings are no tests: nothing fails here.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
export CARGO_TARGET_DIR="${CARGO_TARGET_DIR:-$PWD/target}"
work="$CARGO_TARGET_DIR/kotlin-bench"
mkdir -p "$work"

bash bindings/phone-library.sh
# The newest built: cargo names it by a hash.
program="$(cargo bench --quiet --locked --profile phone -p ebbstead-ffi --bench check --no-run --message-format json |
    python3 -c 'import json, sys; print([one["executable"] for one in map(json.loads, sys.stdin) if one.get("executable")][-1])')"
mvn -q -B -f bindings/kotlin/pom.xml -Debbstead.tests=src/bench/kotlin -Debbstead.build="$work/maven" \
    test-compile org.apache.maven.plugins:maven-dependency-plugin:3.8.1:build-classpath -Dmdep.outputFile="$work/classpath"
java -Djna.library.path="$CARGO_TARGET_DIR/phone" -cp "$work/maven/test-classes:$work/maven/classes:$(cat "$work/classpath")" \
    CostKt run "$work/ten-years.ebb" "$program"
