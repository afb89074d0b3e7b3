//! Spoiling bytes by lot.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

/// What readers stumble over.
const AWKWARD: [&[u8]; 24] = [
    b"",
    b"\0",
    b"\"",
    b"{",
    b"]",
    b"\n",
    b"\r\n",
    b"-1",
    b"0",
    b"1e999",
    b"NaN",
    b"-0.0",
    b"18446744073709551616",
    b"99999999999999999999999999999999",
    b"null",
    b"true",
    b"[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[",
    b"../",
    b"\xff\xff\xff\xff",
    b"\x7f\xff\xff\xff",
    b"\xff",
    "\u{202e}".as_bytes(),
    "e\u{301}".as_bytes(),
    "\u{10ffff}".as_bytes(),
];

/// Draws what is done to a file; the same number draws the same.
pub struct Mutator(Pcg64);

impl Mutator {
    pub fn new(number: u64) -> Self {
        Self(Pcg64::seed_from_u64(number))
    }

    /// Once in so many times.
    pub fn chance(&mut self, one_in: u32) -> bool {
        self.0.random_range(0..one_in) == 0
    }

    /// Below a number, which may be nought.
    pub fn below(&mut self, end: usize) -> usize {
        self.0.random_range(0..end.max(1))
    }

    /// Bytes, altered in one to four ways.
    pub fn spoil(&mut self, good: &[u8]) -> Vec<u8> {
        let mut bytes = good.to_vec();
        for _ in 0..self.0.random_range(1..=4) {
            let at = self.below(bytes.len());
            let to = (at + self.0.random_range(0..64)).min(bytes.len());
            let awkward = AWKWARD[self.below(AWKWARD.len())];
            match self.0.random_range(0..9) {
                0 if !bytes.is_empty() => bytes[at] ^= 1 << self.0.random_range(0..8),
                1 if !bytes.is_empty() => bytes[at] = self.0.random(),
                2 => bytes.truncate(at),
                3 => drop(bytes.splice(at..to, awkward.iter().copied())),
                4 => drop(bytes.splice(at..at, awkward.iter().copied())),
                5 => {
                    let piece = bytes[at..to].to_vec();
                    let elsewhere = self.below(bytes.len());
                    drop(bytes.splice(elsewhere..elsewhere, piece));
                }
                6 => drop(bytes.drain(at..to)),
                7 => bytes[at..to].fill(self.0.random()),
                _ => self.number(&mut bytes),
            }
        }
        bytes
    }

    /// A figure becomes another: the rest still reads.
    fn number(&mut self, bytes: &mut [u8]) {
        let figures: Vec<usize> =
            bytes.iter().enumerate().filter(|(_, byte)| byte.is_ascii_digit()).map(|(at, _)| at).collect();
        if !figures.is_empty() {
            bytes[figures[self.below(figures.len())]] = b'0' + self.0.random_range(0..10_u8);
        }
    }
}
