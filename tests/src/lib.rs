//! Shared helpers of the tests that cross crates.
