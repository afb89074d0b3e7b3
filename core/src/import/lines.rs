//! A reader that counts lines and ends at the longest length that is read.

use std::io::{self, BufRead, Read};

/// Counts what is taken from the reader within.
pub(super) struct Lines<R> {
    inner: io::Take<R>,
    line: u64,
}

impl<R: BufRead> Lines<R> {
    /// Reads no more than so many bytes.
    pub(super) fn new(inner: R, most: u64) -> Self {
        // One more, to tell a file of that length from a longer one.
        Self { inner: inner.take(most + 1), line: 1 }
    }

    /// The line that is being read, from 1.
    pub(super) fn line(&self) -> u64 {
        self.line
    }

    /// There was more than may be read.
    pub(super) fn is_too_long(&self) -> bool {
        self.inner.limit() == 0
    }
}

impl<R: BufRead> Read for Lines<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let read = self.fill_buf()?.read(buffer)?;
        self.consume(read);
        Ok(read)
    }
}

impl<R: BufRead> BufRead for Lines<R> {
    fn fill_buf(&mut self) -> io::Result<&[u8]> {
        self.inner.fill_buf()
    }

    fn consume(&mut self, amount: usize) {
        if let Ok(held) = self.inner.fill_buf() {
            let ends = held.iter().take(amount).filter(|byte| **byte == b'\n').count();
            self.line += ends as u64;
        }
        self.inner.consume(amount);
    }
}
