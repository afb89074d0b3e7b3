//! The stages of a fruitbody's life, as people who pick speak of them.

use crate::words::words;

words!(
    /// How old a fruitbody looks, the youngest first.
    Stage, "stage", {
        /// Not yet opened.
        Button = "button",
        /// Opening.
        Young = "young",
        /// Full grown and fresh.
        Prime = "prime",
        /// Past it.
        Past = "past",
    }
);
