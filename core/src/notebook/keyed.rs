//! A find put to the key: what was answered, where that leads, and what is kept of it.

use super::{Named, NewName, Notebook};
use crate::allowance::Facts;
use crate::error::Error;
use crate::find::How;
use crate::id::FindId;
use crate::key::stream::Request;
use crate::key::{Evidence, Key, Step};
use crate::pack::Pack;

/// A find put to the key.
#[derive(Debug, Clone, PartialEq)]
pub struct Keyed {
    /// What was answered.
    pub evidence: Evidence,
    /// Where that leads.
    pub step: Step,
    /// What was kept.
    pub named: Named,
}

impl NewName {
    /// A name as somebody says it; what the pack knows by it is kept by its id.
    #[must_use]
    pub fn said(pack: &Pack, name: &str, how: How) -> Self {
        let id = Facts::named(pack, name).and_then(|facts| facts.ids.into_iter().next());
        let about = pack.about();
        Self {
            pack: id.as_ref().map(|_| (about.id.clone(), about.version.clone())),
            taxon: id.or_else(|| Some(name.trim().to_owned())),
            how: Some(how),
            ..Self::default()
        }
    }
}

impl Notebook {
    /// Lets the key name a find. What it may not name stays "unknown", with the evidence kept all the same.
    ///
    /// # Errors
    /// [`Error::Evidence`], [`Error::NotFound`].
    pub fn key_find(
        &self,
        key: &Key<'_>,
        id: FindId,
        request: &Request,
        who: Option<String>,
    ) -> Result<Keyed, Error> {
        let pack = key.pack();
        let evidence = request.resolve(pack)?;
        let step = key.step(&evidence);
        let about = pack.about();
        let name = NewName {
            taxon: step.name(pack),
            pack: Some((about.id.clone(), about.version.clone())),
            how: Some(How::Key),
            evidence: serde_json::to_value(request).ok(),
            who,
            ..NewName::default()
        };
        let named = self.name_find(id, name)?;
        Ok(Keyed { evidence, step, named })
    }
}
