//! What every test of the real program needs: a folder of its own, and a way to call it.

#![allow(dead_code, clippy::unwrap_used, clippy::panic, clippy::indexing_slicing)]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

pub struct Desk(tempfile::TempDir);

impl Desk {
    pub fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    /// The program, about to run in this folder.
    pub fn command(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_trug"));
        command
            .current_dir(self.0.path())
            .env("TRUG_NOTEBOOK", self.path("notebook"))
            .env("TZ", "Europe/London");
        command
    }

    pub fn trug(&self, arguments: &[&str]) -> Output {
        self.command().args(arguments).output().unwrap()
    }

    /// What it says when all is well.
    pub fn say(&self, arguments: &[&str]) -> String {
        let output = self.trug(arguments);
        let errors = String::from_utf8_lossy(&output.stderr);
        assert_eq!((output.status.code(), errors.as_ref()), (Some(0), ""), "{arguments:?}");
        String::from_utf8(output.stdout).unwrap()
    }

    pub fn json(&self, arguments: &[&str]) -> Value {
        let said = self.say(&[arguments, &["--json"]].concat());
        assert_eq!(said.lines().count(), 1, "one line");
        serde_json::from_str(&said).unwrap()
    }

    /// Code and message of a refusal, and the exit code.
    pub fn refused(&self, arguments: &[&str]) -> (i32, String, String) {
        let output = self.trug(&[&["--json"], arguments].concat());
        let error: Value = serde_json::from_slice(&output.stderr).unwrap();
        let text = |name: &str| error["error"][name].as_str().unwrap().to_owned();
        assert!(output.stdout.is_empty());
        (output.status.code().unwrap(), text("code"), text("message"))
    }
}

pub fn picture(path: &Path) {
    let drawn = image::RgbImage::from_fn(40, 30, |x, y| {
        image::Rgb([u8::try_from(x * 5).unwrap(), u8::try_from(y * 7).unwrap(), 90])
    });
    drawn.save(path).unwrap();
}
