//! Closed lists of words: each is written in files and typed at a terminal in the same kebab-case form.

/// A word that is on no list.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{given:?} is no {what}: choose one of {choices}")]
pub struct UnknownWord {
    /// What was given.
    pub given: String,
    /// Which list.
    pub what: &'static str,
    /// All its words.
    pub choices: String,
}

macro_rules! words {
    ($(#[$doc:meta])* $name:ident, $what:literal, { $($(#[$word_doc:meta])* $variant:ident = $word:literal),+ $(,)? }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
        pub enum $name {
            $($(#[$word_doc])* #[serde(rename = $word)] $variant),+
        }

        impl $name {
            /// Every word of the list, in its natural order.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The word as written.
            #[must_use]
            pub fn word(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(self.word())
            }
        }

        impl std::str::FromStr for $name {
            type Err = $crate::words::UnknownWord;

            fn from_str(text: &str) -> Result<Self, Self::Err> {
                let wanted = text.trim().to_lowercase().replace([' ', '_'], "-");
                Self::ALL.iter().copied().find(|one| one.word() == wanted).ok_or_else(|| $crate::words::UnknownWord {
                    given: text.to_owned(),
                    what: $what,
                    choices: Self::ALL.iter().map(|one| one.word()).collect::<Vec<_>>().join(", "),
                })
            }
        }
    };
}
pub(crate) use words;

#[cfg(test)]
mod tests {
    words!(
        /// Made up for the test.
        Weather, "weather", {
            /// Rain.
            Rain = "rain",
            /// Rain and wind.
            WindAndRain = "wind-and-rain",
        }
    );

    #[test]
    fn every_word_reads_back_and_is_what_files_hold() {
        for one in Weather::ALL {
            assert_eq!(one.word().parse::<Weather>().as_ref(), Ok(one));
            assert_eq!(serde_json::to_value(one).unwrap(), one.word());
        }
        assert_eq!("Wind and Rain".parse(), Ok(Weather::WindAndRain));
    }

    #[test]
    fn an_unknown_word_is_answered_with_the_list() {
        let error = "snow".parse::<Weather>().unwrap_err().to_string();
        assert_eq!(error, "\"snow\" is no weather: choose one of rain, wind-and-rain");
    }
}
