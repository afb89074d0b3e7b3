//! What a find is called outside: a plain name only where it is sure and undisputed, a qualified one otherwise.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use crate::allowance::goes_by;
use crate::find::{Determination, How, Sure};
use crate::pack::Pack;

/// The kingdom, which is all that can be said of a find that nobody named.
const UNNAMED: &str = "Fungi";

/// A name as told to somebody else: of nobody who gave it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Naming {
    /// The Latin name; the name as given if no pack knows it; `Fungi` if none was given or the names disagree.
    pub scientific: String,
    /// The English name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub english: Option<String>,
    /// `cf.` for one that is not sure; `not settled: …` where names disagree.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub qualifier: Option<String>,
    /// How it was reached, for one that was.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub how: Option<How>,
}

impl Naming {
    /// The name that unwithdrawn determinations, oldest first, give together.
    ///
    /// One that nobody called sure is qualified: saying nothing of sureness claims none. So is one that [`goes_by`] holds
    /// for not settled, as when the key will not name what somebody was sure of.
    #[must_use]
    pub fn of(determinations: &[&Determination], pack: &Pack) -> Self {
        let is_settled = goes_by(pack, determinations.iter().copied()).how.is_some();
        let standing: Vec<_> = determinations
            .iter()
            .filter(|given| given.withdrawn != Some(true))
            .filter_map(|given| Some((given, names(given.taxon.as_deref()?, pack))))
            .collect();
        let different: BTreeSet<&str> = standing.iter().map(|(_, (latin, _))| latin.as_str()).collect();
        let unnamed = Self { scientific: UNNAMED.to_owned(), english: None, qualifier: None, how: None };
        if different.len() > 1 {
            let all = different.into_iter().collect::<Vec<_>>().join(" or ");
            return Self { qualifier: Some(format!("not settled: {all}")), ..unnamed };
        }
        let Some((_, (scientific, english))) = standing.last().cloned() else { return unnamed };
        let sure = is_settled && standing.iter().any(|(given, _)| given.sure == Some(Sure::Sure));
        // The word of the one who is sure; else the latest.
        let by = standing.iter().rfind(|(given, _)| !sure || given.sure == Some(Sure::Sure));
        let how = by.and_then(|(given, _)| given.how);
        Self { scientific, english, qualifier: (!sure).then(|| "cf.".to_owned()), how }
    }
}

/// Latin and English names of a taxon or group of the pack; what no pack knows stands as it was given.
fn names(given: &str, pack: &Pack) -> (String, Option<String>) {
    if let Some(taxon) = pack.taxon_by_name(given).and_then(|at| pack.taxon(at)) {
        return (taxon.latin.clone(), taxon.english.first().cloned());
    }
    match pack.groups().iter().find(|group| group.id == given) {
        Some(group) => (group.latin.clone(), group.english.first().cloned()),
        None => (given.to_owned(), None),
    }
}
