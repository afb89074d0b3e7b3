//! Writes Kotlin for a built library.

fn main() {
    uniffi::uniffi_bindgen_main();
}
