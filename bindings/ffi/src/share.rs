//! *Sharing*: what may leave, shown beforehand, and the file that it leaves in.

use std::path::PathBuf;
use std::sync::Arc;

use jiff::civil::Date;
use trug::allowance::goes_by;
use trug::export::{Exactness, Format, Terms};
use trug::find::FieldError;
use trug::id::{FindId, PeerId};
use trug::notebook::{Leaving, Order, Peer, PeerRecord, Seal, Sending, Which};
use trug::seal::{NotAKey, Passphrase, Recipient};

use crate::job::State;
use crate::leaving::Outgoing;
use crate::now::{FindLine, OutingShown};
use crate::shared::{NameShown, When};
use crate::{Book, Job, TrugError};

/// How many outings are offered, besides the one that is meant.
const OUTINGS: usize = 60;
/// The word for a bundle among the forms.
const BUNDLE: &str = "bundle";

/// Which finds are meant.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Enum)]
pub enum ShareWhich {
    /// All there are.
    All,
    /// One.
    Find {
        /// Its id.
        id: String,
    },
    /// Those of an outing.
    Outing {
        /// Its id.
        id: String,
    },
    /// Those of a patch.
    Patch {
        /// Its id.
        id: String,
    },
    /// Those of a span of days, both ends included.
    Days {
        /// The first, like 2026-10-18; none for what makes a week.
        from: Option<String>,
        /// The last; none for today.
        to: Option<String>,
    },
}

/// Everything that the first leaf of sharing offers.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct SharePage {
    /// Now.
    pub now: When,
    /// What is meant, complete: days have both their ends, in order.
    pub which: ShareWhich,
    /// How many finds that is.
    pub finds: u32,
    /// The find, where it is one.
    pub find: Option<FindLine>,
    /// Outings that may be meant, the latest first.
    pub outings: Vec<OutingShown>,
    /// Patches that may be meant.
    pub patches: Vec<PatchOffered>,
    /// The owner's other devices that this one is paired with.
    pub devices: Vec<DeviceOffered>,
    /// The forms that copies may leave in.
    pub forms: Vec<FormOffered>,
}

/// A patch that may be meant.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct PatchOffered {
    /// Its id.
    pub id: String,
    /// What its owner calls it.
    pub name: Option<String>,
    /// What is looked for there.
    pub kind: Option<NameShown>,
}

/// A paired device.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct DeviceOffered {
    /// Its id.
    pub id: String,
    /// What its owner calls it.
    pub name: String,
}

/// A form that copies may leave in.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct FormOffered {
    /// bundle, darwin-core, gpx, geojson, csv.
    pub form: String,
    /// Whether it can hold photos.
    pub holds_photos: bool,
    /// Whether it holds the patches of the finds, and not the finds.
    pub holds_patches: bool,
    /// Whether it can be sealed.
    pub can_be_sealed: bool,
}

/// What may leave. The least is 10 km, and nothing ticked.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Record)]
pub struct ShareTerms {
    /// How exactly places are told: 10km, 1km, exact.
    pub place: String,
    /// Notes, the surroundings in the owner's words, names of patches.
    pub notes: bool,
    /// The time of day.
    pub time: bool,
    /// Photos, as pictures alone; they stay where the form holds none.
    pub photos: bool,
    /// The owner's name, if it is to leave.
    pub name: Option<String>,
    /// For whom; does not leave. What goes to the same name later gives the same finds the same ids.
    pub recipient: Option<String>,
}

/// What is to leave.
#[derive(Debug, Clone, PartialEq, Eq, uniffi::Enum)]
pub enum ShareWhat {
    /// Copies for somebody else.
    Copies {
        /// Of which finds.
        which: ShareWhich,
        /// In which form.
        form: String,
        /// What of them.
        terms: ShareTerms,
    },
    /// Everything, exact, for the owner's other devices.
    Everything {
        /// The paired device that lacks it, so that what it holds is left out; none for any.
        device: Option<String>,
    },
}

/// Who alone may open a bundle.
#[derive(Clone, PartialEq, Eq, uniffi::Enum)]
pub enum ShareSeal {
    /// Anybody.
    Open,
    /// Whoever knows the passphrase.
    Passphrase {
        /// It.
        passphrase: String,
    },
    /// The owner of a key.
    Key {
        /// The line that begins with trug1 or age1.
        key: String,
    },
    /// A paired device.
    Device {
        /// Its id.
        id: String,
    },
}

impl std::fmt::Debug for ShareSeal {
    /// Says no passphrase.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("ShareSeal").finish_non_exhaustive()
    }
}

#[uniffi::export]
impl Book {
    /// What may be shared, and how many finds are meant; where nothing was said, the latest outing.
    ///
    /// # Errors
    /// `not-found` for what is not there any more, `field` for a day that is none, `not-an-id`, `paused`.
    pub fn share_page(&self, which: Option<ShareWhich>) -> Result<SharePage, TrugError> {
        let which = which.map(|which| self.which(&which)).transpose()?;
        let which = which.map_or_else(|| self.notebook.usually_meant(), Ok)?;
        let find = match which {
            Which::Find(id) => Some(self.find_line(id)?),
            _ => None,
        };
        let mut outings = self.notebook.outings()?;
        outings.reverse();
        outings.retain(|outing| !outing.outing.deleted);
        let meant = outings.iter().position(|outing| which == Which::Outing(outing.id));
        let further = meant.filter(|at| *at >= OUTINGS).and_then(|at| outings.get(at).cloned());
        outings.truncate(OUTINGS);
        outings.extend(further);
        let patches = self.notebook.patches(&trug::store::Criteria::default())?;
        let patches = patches.into_iter().filter(|record| !record.patch.deleted).map(|record| PatchOffered {
            id: record.id.to_string(),
            name: record.patch.value.name,
            kind: record.patch.value.taxon.as_deref().map(|name| NameShown::of(self.pack, name)),
        });
        Ok(SharePage {
            now: self.notebook.now().into(),
            finds: u32::try_from(self.notebook.meant(which)?.len()).unwrap_or(u32::MAX),
            which: which.into(),
            find,
            outings: outings.iter().map(OutingShown::from).collect(),
            patches: patches.collect(),
            devices: self.paired().iter().map(DeviceOffered::from).collect(),
            forms: forms(),
        })
    }

    /// Starts to gather exactly what would leave; nothing is written. Ends with [`JobReport::Previewed`](crate::JobReport).
    ///
    /// # Errors
    /// `not-found`, `field`, `not-an-id`, `paused`.
    pub fn start_preview(&self, what: ShareWhat, sealed: bool) -> Result<Arc<Job>, TrugError> {
        let leaving = self.leaving(&what)?;
        let job = self.notebook.preview_in_background(self.pack, leaving.clone());
        let outgoing = Outgoing { job, leaving, sealed, notebook: Arc::downgrade(&self.notebook) };
        Ok(Job::start(State::Previewing(outgoing)))
    }

    /// Starts to write what leaves to a new file. `mark` is that of the preview: if what would leave is no longer what was shown,
    /// nothing is written. Ends with [`JobReport::Shared`](crate::JobReport).
    ///
    /// # Errors
    /// As [`Book::start_preview`]; `no-passphrase`, `not-a-key`; the job ends with `changed`, `in-the-way`, `no-room`.
    pub fn start_share(
        &self,
        what: ShareWhat,
        seal: ShareSeal,
        mark: String,
        path: String,
    ) -> Result<Arc<Job>, TrugError> {
        let leaving = self.leaving(&what)?;
        let seal = self.seal(&seal)?;
        let sealed = seal.is_some();
        let path = PathBuf::from(path);
        let job = self.notebook.share_in_background(self.pack, leaving.clone(), seal, mark, path);
        let outgoing = Outgoing { job, leaving, sealed, notebook: Arc::downgrade(&self.notebook) };
        Ok(Job::start(State::Sharing(outgoing)))
    }
}

impl Book {
    fn which(&self, which: &ShareWhich) -> Result<Which, TrugError> {
        Ok(match which {
            ShareWhich::All => Which::All,
            ShareWhich::Find { id } => Which::Find(id.parse()?),
            ShareWhich::Outing { id } => Which::Outing(id.parse()?),
            ShareWhich::Patch { id } => Which::Patch(self.notebook.standing_patch(id.parse()?)?),
            ShareWhich::Days { from, to } => {
                self.notebook.days_meant(day("from", from.as_deref())?, day("to", to.as_deref())?)
            }
        })
    }

    fn find_line(&self, id: FindId) -> Result<FindLine, TrugError> {
        let record = self.notebook.find(id)?;
        let name = goes_by(self.pack, record.determinations.iter().map(|one| &one.determination.value));
        Ok(self.line(&record, &name))
    }

    fn leaving(&self, what: &ShareWhat) -> Result<Leaving, TrugError> {
        let (which, form, terms) = match what {
            ShareWhat::Everything { device: None } => return Ok(Leaving::Bundle(Sending::ForMe)),
            ShareWhat::Everything { device: Some(device) } => {
                return Ok(Leaving::Bundle(Sending::Unseen(device.parse()?)));
            }
            ShareWhat::Copies { which, form, terms } => (self.which(which)?, form, terms),
        };
        let finds = (which != Which::All).then(|| self.notebook.meant(which)).transpose()?;
        let recipient = terms.recipient.clone().filter(|name| !name.trim().is_empty());
        let photos = terms.photos;
        let terms = Terms {
            place: terms.place.parse::<Exactness>()?,
            notes: terms.notes,
            time: terms.time,
            name: terms.name.clone(),
        };
        if form == BUNDLE {
            return Ok(Leaving::Bundle(Sending::ForSomeone { finds, terms, recipient, photos }));
        }
        let format: Format = form.parse()?;
        let patch = match which {
            Which::Patch(patch) => Some(patch),
            _ => None,
        };
        let photos = photos && format.holds_photos();
        Ok(Leaving::Export(Order { format, finds, terms, photos, recipient, patch }))
    }

    fn seal(&self, seal: &ShareSeal) -> Result<Option<Seal>, TrugError> {
        Ok(match seal {
            ShareSeal::Open => None,
            ShareSeal::Passphrase { passphrase } => Some(Seal::Passphrase(Passphrase::new(passphrase)?)),
            ShareSeal::Key { key } => Some(Seal::Keys(vec![key.parse()?])),
            ShareSeal::Device { id } => {
                let id: PeerId = id.parse()?;
                let peer = self.notebook.peers()?.into_iter().find(|peer| peer.id == id);
                let peer: Peer = peer.map(|peer| peer.peer.value).ok_or_else(gone)?;
                let key = peer.key.as_ref().ok_or(NotAKey::Text)?;
                Some(Seal::Keys(vec![Recipient::try_from(key)?]))
            }
        })
    }

    /// Without a key of its own the notebook is paired with nobody, and copies can be shared all the same.
    fn paired(&self) -> Vec<PeerRecord> {
        self.notebook.peers().unwrap_or_default()
    }
}

fn gone() -> TrugError {
    trug::error::Error::NotFound { what: "paired device" }.into()
}

fn day(field: &'static str, text: Option<&str>) -> Result<Option<Date>, TrugError> {
    let read = |text: &str| {
        let why = "give a day like 2026-10-18".to_owned();
        text.parse::<Date>().map_err(|_| FieldError { field, why })
    };
    Ok(text.map(read).transpose()?)
}

fn forms() -> Vec<FormOffered> {
    let bundle = FormOffered {
        form: BUNDLE.to_owned(),
        holds_photos: true,
        holds_patches: false,
        can_be_sealed: true,
    };
    let exports = Format::ALL.iter().map(|format| FormOffered {
        form: format.word().to_owned(),
        holds_photos: format.holds_photos(),
        holds_patches: *format == Format::Gpx,
        can_be_sealed: false,
    });
    std::iter::once(bundle).chain(exports).collect()
}

impl From<Which> for ShareWhich {
    fn from(which: Which) -> Self {
        match which {
            Which::All => Self::All,
            Which::Find(id) => Self::Find { id: id.to_string() },
            Which::Outing(id) => Self::Outing { id: id.to_string() },
            Which::Patch(id) => Self::Patch { id: id.to_string() },
            Which::Days { from, to } => Self::Days { from: Some(from.to_string()), to: Some(to.to_string()) },
        }
    }
}

impl From<&PeerRecord> for DeviceOffered {
    fn from(peer: &PeerRecord) -> Self {
        Self { id: peer.id.to_string(), name: peer.name() }
    }
}
