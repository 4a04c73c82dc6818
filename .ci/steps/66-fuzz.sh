# A bounded run of the fuzz targets under libFuzzer: about a minute after building. Found inputs are shown and kept in the output.
# after: tools
set -euo pipefail
if ! command -v c++ >/dev/null; then
    echo "no C++ compiler for libFuzzer; the targets ran on seeds and changes of them among the tests"
    exit 77
fi
bash tests/fuzz/run.sh --build
seconds="${EBBSTEAD_FUZZ_SECONDS:-5}"
targets=(csv table fhir bluetooth times units settings entries prompts carried sealed)
# A target keeps one processor busy, so two run at once.
export seconds
printf '%s\n' "${targets[@]}" | xargs -P 2 -I{} bash -c '
    log="$CARGO_TARGET_DIR/fuzz/{}.log"
    bash tests/fuzz/run.sh --built {} -max_total_time="$seconds" -max_len=4096 -timeout=20 -rss_limit_mb=1024 -print_final_stats=1 \
        >"$log" 2>&1 || touch "$log.failed"'
for target in "${targets[@]}"; do
    log="$CARGO_TARGET_DIR/fuzz/$target.log"
    if [ -e "$log.failed" ]; then
        rm -f "$CARGO_TARGET_DIR"/fuzz/*.log.failed
        tail -40 "$log"
        echo "found by $target; the input is named above" >&2
        exit 1
    fi
    echo "$target: $(sed -n 's/^stat::number_of_executed_units: *//p' "$log") inputs, $(grep -o 'cov: [0-9]*' "$log" | tail -1 | tr -d ':') edges"
done
