//! Trug's core: everything that decides or remembers. No screen, no platform, no network.

pub mod change;
pub mod id;
pub mod moment;
pub mod pack;
pub mod photo;
pub mod place;
pub mod units;
