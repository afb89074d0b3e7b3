//! `trug`: the notebook at a desk.
fn main() {}
