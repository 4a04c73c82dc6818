# The prompts on open data, beside simpler rules. The figures are printed; tests/open_data.rs holds what may not get worse.
# after: build
set -euo pipefail
. .ci/build.sh
if [ -z "$EBBSTEAD_SHARED" ]; then
    echo "no shared data beside the checkout (name it with EBBSTEAD_SHARED)"
    exit 77
fi
build
"$debug/evaluate" \
    "$EBBSTEAD_SHARED/open-data/cgm" --known "$EBBSTEAD_SHARED/open-data/virtual" \
    --plot "$CARGO_TARGET_DIR/reliability.svg" --json "$CARGO_TARGET_DIR/figures.json"
