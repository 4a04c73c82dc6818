# Not a step: one selection of packages, features and targets for everything that is linted, tested and run, so that each package is
# compiled once. Another selection gives dependencies other features, and Cargo builds them again from there up. Read it with `.`.

everything=(--workspace --features ebbstead-ffi/generator)
debug="$CARGO_TARGET_DIR/debug"

# Libraries, programs and tests.
build() {
    cargo build --quiet --locked "${everything[@]}" --lib --bins --tests
}
