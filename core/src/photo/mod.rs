//! Photographs: taken in by path, kept byte for byte under the hash of their bytes, and asked what they know.
//!
//! [`Shelf`] is the folder they stand in. [`Shelf::take_in`] copies one there so that it is either whole and
//! synced, or not there at all; what its EXIF says comes back as [`PhotoFacts`], with a [`PhotoWarning`] for
//! whatever in it cannot be right. Thumbnails are a cache beside the photos and may be deleted at any time.
//! [`strip`] makes a copy that holds the picture and nothing else, for somebody else.

mod clock;
mod error;
mod exif;
mod facts;
mod format;
mod hash;
mod intake;
mod role;
mod shelf;
mod strip;
mod thumbnail;
mod warning;

pub use clock::TOLERANCE as CLOCK_TOLERANCE;
pub use error::PhotoError;
pub use facts::{Direction, North, Orientation, PhotoFacts};
pub use format::{Format, HEAD};
pub use hash::{NotAHash, PhotoHash};
pub use intake::{MOST_BYTES, TakenIn};
pub use role::{NotARole, Role};
pub use shelf::{Condition, Shelf, Stored};
pub use strip::{Colours, StripError, Stripped, strip};
pub use thumbnail::LONG_SIDE as THUMBNAIL_SIDE;
pub use warning::{Fact, NoThumbnail, PhotoWarning};
