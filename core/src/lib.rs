//! Trug's core: everything that decides or remembers. No screen, no platform, no network.

pub mod change;
pub mod disk;
pub mod id;
pub mod log;
pub mod moment;
pub mod pack;
pub mod photo;
pub mod place;
pub mod units;
pub mod words;
