# What would be sent to a registry: each crate is packed, and compiled from what was packed, with the others as packed beside it.
# after: build lint
set -euo pipefail
. .ci/build.sh
# Each stands on those before it.
crates=(ebbstead-engine ebbstead-log ebbstead-insights ebbstead-present ebbstead-core ebbstead)
selected=()
for crate in "${crates[@]}"; do selected+=(-p "$crate"); done
rm -rf "$CARGO_TARGET_DIR/package"
# Cargo unpacks what was packed in its own folder too, by name and version, and takes what an earlier run left there for the same.
rm -rf "${CARGO_HOME:-$HOME/.cargo}"/registry/src/-*/ebbstead*
# What is left out on purpose (tests need the workspace's fixtures) is warned of, and would drown what is not.
log="$CARGO_TARGET_DIR/ci-packages.log"
if ! CARGO_PROFILE_DEV_DEBUG=0 cargo package --locked --allow-dirty "${selected[@]}" >"$log" 2>&1; then
    cat "$log"
    exit 1
fi
version="$(sed -n 's/^version = "\(.*\)"$/\1/p' Cargo.toml | head -1)"
for crate in "${crates[@]}"; do
    packed="$CARGO_TARGET_DIR/package/$crate-$version.crate"
    holds="$(tar tzf "$packed")"
    for file in README.md LICENSE-MIT LICENSE-APACHE Cargo.toml; do
        if ! grep -qx "$crate-$version/$file" <<<"$holds"; then
            echo "$crate is packed without $file" >&2
            exit 1
        fi
    done
    # A link that was packed as a link would point at nothing.
    if tar tvzf "$packed" | grep -q '^l'; then
        echo "$crate is packed with links in it" >&2
        exit 1
    fi
    printf '%-18s %3s files, %s bytes packed\n' "$crate" "$(wc -l <<<"$holds")" "$(stat -c %s "$packed")"
done

# What would break those who use the last version.
if ! cargo semver-checks --version >/dev/null 2>&1; then
    echo "skipped: cargo-semver-checks is not there, so the interface was not compared with the last version's"
elif ! last="$(git describe --tags --abbrev=0 --match 'v*' 2>/dev/null)"; then
    echo "skipped: no version is tagged yet, so there is nothing to compare the interface with"
else
    cargo semver-checks "${selected[@]}" --baseline-rev "$last"
fi
