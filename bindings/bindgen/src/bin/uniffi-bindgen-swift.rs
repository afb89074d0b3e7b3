//! Writes Swift for a built library.

fn main() {
    uniffi::uniffi_bindgen_swift();
}
