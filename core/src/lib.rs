//! Trug's core: everything that decides or remembers. No screen, no platform, no network.

pub mod allowance;
pub mod area;
pub mod change;
pub mod code;
pub mod condition;
pub mod disk;
pub mod error;
pub mod exchange;
pub mod export;
pub mod find;
pub mod id;
pub mod key;
pub mod log;
pub mod moment;
pub mod notebook;
pub mod outing;
pub mod pack;
pub mod patch;
pub mod photo;
pub mod place;
pub mod progress;
pub mod seal;
pub mod stage;
pub mod store;
pub mod units;
pub mod words;
