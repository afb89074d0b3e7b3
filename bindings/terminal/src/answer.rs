//! What a command answers, and how it is printed: words for people, one line of JSON for programs.

use std::io::{IsTerminal, Write};
use std::process::ExitCode;

use serde::Serialize;
use serde_json::{Value, json};

/// An answer in both forms.
#[derive(Debug)]
pub struct Answer {
    words: String,
    json: Value,
    /// Whether the exit code says that all is well.
    good: bool,
}

impl Answer {
    pub fn new(words: impl Into<String>, json: &impl Serialize) -> Self {
        Self { words: words.into(), json: serde_json::to_value(json).unwrap_or(Value::Null), good: true }
    }

    /// Everything was said already.
    pub fn silent() -> Self {
        Self { words: String::new(), json: Value::Null, good: true }
    }

    /// An answer that was given, and is bad news.
    pub fn bad_news(self) -> Self {
        Self { good: false, ..self }
    }

    pub fn print(&self, json: bool) -> ExitCode {
        let mut out = std::io::stdout().lock();
        let said = self.json.is_null();
        let text = if json && !said { self.json.to_string() } else { self.words.trim_end().to_owned() };
        // A reader that has gone away has read enough.
        let _ = if text.is_empty() { Ok(()) } else { writeln!(out, "{text}") };
        ExitCode::from(u8::from(!self.good))
    }
}

/// Why a command was refused.
#[derive(Debug)]
pub struct Refusal {
    code: String,
    message: String,
}

impl Refusal {
    pub fn new(code: &str, message: impl Into<String>) -> Self {
        Self { code: code.to_owned(), message: message.into() }
    }

    pub fn print(&self, json: bool) -> ExitCode {
        let mut err = std::io::stderr().lock();
        let _ = if json {
            writeln!(err, "{}", json!({"error": {"code": self.code, "message": self.message}}))
        } else {
            writeln!(err, "{}: {}", coloured("trug", "1;31"), self.message)
        };
        ExitCode::FAILURE
    }
}

/// Colour only where somebody sees it and has not asked for none.
fn coloured(text: &str, colour: &str) -> String {
    let wanted = std::io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none();
    if wanted { format!("\x1b[{colour}m{text}\x1b[0m") } else { text.to_owned() }
}

macro_rules! refused {
    ($($error:ty => $code:expr),+ $(,)?) => {
        $(impl From<$error> for Refusal {
            fn from(error: $error) -> Self {
                let code: fn(&$error) -> &str = $code;
                Self::new(code(&error), error.to_string())
            }
        })+
    };
}

refused!(
    trug::error::Error => trug::error::Error::code,
    trug::key::stream::NotEvidence => trug::key::stream::NotEvidence::code,
    trug::condition::SignError => |error| error.code(),
    trug::place::Error => trug::place::Error::code,
    trug::area::AreaError => trug::area::AreaError::code,
    trug::import::ImportError => trug::import::ImportError::code,
    trug::code::RuleError => trug::code::RuleError::code,
    trug::code::CodeError => trug::code::CodeError::code,
    trug::find::FieldError => |_| "field",
    trug::pack::PackError => |error| error.code(),
    std::io::Error => |_| "disk",
    serde_json::Error => |_| "json",
);
