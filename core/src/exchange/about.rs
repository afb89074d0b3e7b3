//! What a bundle says of itself: `bagit.txt` and `bag-info.txt`.

use std::collections::BTreeMap;
use std::fmt::Write;

use jiff::civil::Date;

use super::{FORMAT, Refused};
use crate::export::Exactness;
use crate::id::DeviceId;
use crate::words::words;

words!(
    /// Whom a bundle is for.
    Audience, "audience", {
        /// The owner's other devices: everything, as it is.
        Me = "me",
        /// Somebody else: copies of what may leave.
        Someone = "someone",
    }
);

/// What stands in a bag's `bag-info.txt`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct About {
    /// The form that it is written in.
    pub format: (u32, u32),
    /// Whom it is for.
    pub audience: Audience,
    /// The day of the newest change in it.
    pub date: Date,
    /// Which device wrote it; never told to somebody else.
    pub device: Option<DeviceId>,
    /// Whose records they are, if they said so.
    pub owner: Option<String>,
    /// How exactly places are told, in copies for somebody else.
    pub place: Option<Exactness>,
}

const FORMAT_LABEL: &str = "Trug-Bundle-Format";
const AUDIENCE: &str = "Trug-Bundle-For";
const DEVICE: &str = "Trug-Device";
const OWNER: &str = "Trug-Owner";
const PLACE: &str = "Trug-Place";
const OXUM: &str = "Payload-Oxum";
/// What a bag that this version writes says of its form.
pub const DECLARATION: &str = "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n";

impl About {
    /// The text of `bag-info.txt`, for a payload of so many bytes and files.
    pub(super) fn write(&self, bytes: u64, files: usize) -> String {
        let mut text = String::new();
        let mut line = |label: &str, value: &str| {
            let _ = writeln!(text, "{label}: {}", one_line(value)); // writing to a String cannot fail
        };
        line("Bag-Software-Agent", concat!("Trug ", env!("CARGO_PKG_VERSION")));
        line("Bagging-Date", &self.date.to_string());
        line(OXUM, &format!("{bytes}.{files}"));
        line(FORMAT_LABEL, &format!("{}.{}", self.format.0, self.format.1));
        line(AUDIENCE, self.audience.word());
        if let Some(device) = self.device {
            line(DEVICE, &device.to_string());
        }
        if let Some(owner) = &self.owner {
            line(OWNER, owner);
        }
        if let Some(place) = self.place {
            line(PLACE, place.word());
        }
        text
    }

    /// Reads `bag-info.txt`, and the bytes and files of payload that it tells of. Labels of later versions are passed over.
    pub(super) fn read(text: &str) -> Result<(Self, Option<(u64, usize)>), Refused> {
        let bad = |why| Refused::Bag { what: "bag-info.txt", why };
        let labels = labels(text).ok_or_else(|| bad("has a line without a label"))?;
        let one = |label: &str| match labels.get(&label.to_ascii_lowercase()).map(Vec::as_slice) {
            None => Ok(None),
            Some([value]) => Ok(Some(value.as_str())),
            Some(_) => Err(bad("says something twice")),
        };
        let format = one(FORMAT_LABEL)?.ok_or(Refused::NotABundle)?;
        let format = format
            .split_once('.')
            .and_then(|(major, minor)| Some((major.parse().ok()?, minor.parse().ok()?)));
        let format: (u32, u32) = format.ok_or_else(|| bad("gives a format that is none"))?;
        if format.0 > FORMAT.0 {
            return Err(Refused::Newer { found: format.0, known: FORMAT.0 });
        }
        let audience = one(AUDIENCE)?.ok_or_else(|| bad("does not say whom the bundle is for"))?;
        let date = one("Bagging-Date")?.map(str::parse).transpose();
        let oxum = one(OXUM)?.map(|oxum| {
            oxum.split_once('.').and_then(|(bytes, files)| Some((bytes.parse().ok()?, files.parse().ok()?)))
        });
        let oxum =
            oxum.map(|oxum| oxum.ok_or_else(|| bad("gives a Payload-Oxum that is none"))).transpose()?;
        let about = Self {
            format,
            audience: audience
                .parse()
                .map_err(|_| bad("says that the bundle is for neither me nor someone"))?,
            date: date.map_err(|_| bad("gives a date that is none"))?.unwrap_or_default(),
            device: one(DEVICE)?
                .map(str::parse)
                .transpose()
                .map_err(|_| bad("names a device that is none"))?,
            owner: one(OWNER)?.map(str::to_owned),
            place: one(PLACE)?
                .map(str::parse)
                .transpose()
                .map_err(|_| bad("tells places in a way that is none"))?,
        };
        Ok((about, oxum))
    }
}

/// A value must not begin a line of its own.
fn one_line(value: &str) -> String {
    value.chars().map(|c| if c.is_control() { ' ' } else { c }).collect::<String>().trim().to_owned()
}

/// Labels in lower case, each with its values; a line that begins with white space goes on from the one before.
fn labels(text: &str) -> Option<BTreeMap<String, Vec<String>>> {
    let mut found: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut last: Option<String> = None;
    for line in text.lines().filter(|line| !line.trim().is_empty()) {
        if line.starts_with([' ', '\t']) {
            let value = found.get_mut(last.as_ref()?)?.last_mut()?;
            value.push(' ');
            value.push_str(line.trim());
            continue;
        }
        let (label, value) = line.split_once(':')?;
        let label = label.trim().to_ascii_lowercase();
        found.entry(label.clone()).or_default().push(value.trim().to_owned());
        last = Some(label);
    }
    Some(found)
}

/// Proves that `bagit.txt` declares a bag that can be read.
pub fn is_declared(text: &str) -> Result<(), Refused> {
    let bad = |why| Refused::Bag { what: "bagit.txt", why };
    let labels = labels(text).ok_or_else(|| bad("has a line without a label"))?;
    let value = |label: &str| labels.get(label).and_then(|values| values.first()).map(String::as_str);
    match value("bagit-version") {
        Some("0.97" | "1.0") => {}
        _ => return Err(bad("is of a version other than 0.97 and 1.0")),
    }
    match value("tag-file-character-encoding") {
        Some(encoding) if encoding.eq_ignore_ascii_case("utf-8") => Ok(()),
        _ => Err(bad("is not in UTF-8")),
    }
}
