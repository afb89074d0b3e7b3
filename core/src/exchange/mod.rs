//! Bundles: files by which a notebook passes records on.
//!
//! A bundle is an ordinary ZIP that holds a `BagIt` bag: changes in the log's own form, photos by their hash, manifests.
//!
//! ```text
//! bundle/bag-info.txt                        who wrote it, for whom, what is in it
//! bundle/bagit.txt
//! bundle/data/changes/<device>.jsonl         a device's changes, a line each, in order of their stamps
//! bundle/data/photos/<sha256>.<jpg|heic|png|webp>
//! bundle/holds.json                          what the device that wrote it holds, and left out; for its owner's devices
//! bundle/manifest-sha256.txt                 the hash of everything below data/
//! bundle/signature.json                      proves which device wrote it; not in all bundles
//! bundle/tagmanifest-sha256.txt              the hash of bagit.txt, bag-info.txt and the manifest
//! ```
//!
//! Entries stand in the order of their names and are dated 1980-01-01, so that the same content gives the same bytes.
//! [`write()`] writes one, [`Bundle::open`] reads one and proves all of it before anything is taken from it. Neither knows of
//! a notebook: whom to believe and what may be taken is decided there.
//!
//! # References
//! RFC 8493 (`BagIt` 1.0); bags of version 0.97 are read too. PKWARE APPNOTE 6.3 (ZIP).

mod about;
mod archive;
mod error;
mod folder;
mod held;
mod keeper;
mod lines;
mod manifest;
mod name;
mod read;
mod write;

#[cfg(test)]
mod tests;

pub use about::{About, Audience};
pub use error::Refused;
pub use folder::{Found, Known, Naming};
pub use held::{Held, Holdings, Span, Spanning};
pub use keeper::{DEPTH, Keeper, OnDisk};
pub use read::{Bundle, Unread};
pub use write::{Contents, Photograph, Sign, Source, write, write_sealed};

/// The newest form of bundle that this version writes. A bundle of a higher first number is refused; of a higher second
/// one it is read, and what is new in it is kept.
pub const FORMAT: (u32, u32) = (1, 1);
