//! Writes the bindings from the built library; `bindings/generate.sh` calls it.

fn main() {
    uniffi::uniffi_bindgen_main();
}
