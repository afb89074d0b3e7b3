//! What may leave, as it is asked for on the command line, and how it is shown beforehand.

use clap::Args;
use trug::error::Error;
use trug::export::{Copied, Exactness, SharedPlace, Terms};
use trug::id::FindId;
use trug::notebook::Notebook;

/// What may leave: by default the least.
#[derive(Debug, Args)]
pub struct Leaving {
    /// Only these finds, by the beginning of their ids; for gpx their patches.
    #[arg(long, value_name = "ID", num_args = 1.., value_delimiter = ',')]
    pub finds: Option<Vec<String>>,
    /// How exactly to tell places: 10km, 1km, exact.
    #[arg(long, value_name = "HOW", default_value_t = Exactness::TenKilometres)]
    place: Exactness,
    /// Let notes out, with the surroundings in your words and names of patches.
    #[arg(long)]
    notes: bool,
    /// Let the time of day out.
    #[arg(long)]
    time: bool,
    /// Let this name out as the recorder's.
    #[arg(long, value_name = "NAME")]
    name: Option<String>,
    /// For whom it is; does not leave. What goes to the same name later gives the same finds the same ids.
    #[arg(long, value_name = "NAME")]
    pub recipient: Option<String>,
}

impl Leaving {
    pub fn terms(&self) -> Terms {
        Terms { place: self.place, notes: self.notes, time: self.time, name: self.name.clone() }
    }

    /// The finds that are meant; `None` for all.
    pub fn finds(&self, notebook: &Notebook) -> Result<Option<Vec<FindId>>, Error> {
        let ids = self.finds.as_ref();
        ids.map(|ids| ids.iter().map(|id| notebook.find_beginning(id)).collect()).transpose()
    }
}

/// What stays, in one sentence.
pub fn kept_back(terms: &Terms, photos: bool) -> String {
    let place = match terms.place {
        Exactness::TenKilometres => "Places as 10 km squares",
        Exactness::OneKilometre => "Places as 1 km squares",
        Exactness::Exact => "EXACT PLACES are in it",
    };
    let stays = [
        (terms.place != Exactness::Exact).then_some("exact places"),
        (!terms.notes).then_some("notes"),
        (!terms.time).then_some("times of day"),
        (!photos).then_some("photos"),
    ];
    let stays: Vec<_> = stays.into_iter().flatten().collect();
    format!("{place}; {} stay with you.", stays.join(", "))
}

/// A copy, on one line.
pub fn find(copy: &Copied) -> String {
    let name = &copy.name;
    let named = [name.qualifier.as_deref(), Some(name.scientific.as_str())];
    let host = copy.host.as_ref().map(|host| format!("{} ({})", host.tree, host.sure));
    let stages = copy
        .stages
        .as_ref()
        .map(|stages| stages.iter().map(|(stage, n)| format!("{stage} {n}")).collect::<Vec<_>>().join(", "));
    line([
        ("", copy.when()),
        ("", Some(named.into_iter().flatten().collect::<Vec<_>>().join(" "))),
        ("", name.english.clone()),
        ("named by ", name.how.map(|how| how.to_string())),
        ("", copy.place.as_ref().map(place)),
        ("on ", copy.on.map(|on| on.to_string())),
        ("host ", host),
        ("ground ", copy.ground.map(|ground| ground.to_string())),
        ("", copy.growth.map(|growth| growth.to_string())),
        ("seen ", copy.seen.map(|seen| seen.to_string())),
        ("", stages),
        ("width ", copy.width.map(|width| width.to_string())),
        ("taken ", copy.taken.map(|taken| taken.to_string())),
        ("grams ", copy.grams.map(|grams| grams.to_string())),
        ("for study ", copy.specimens.map(|n| n.to_string())),
        ("recorder ", copy.recorder.clone()),
        ("habitat ", copy.habitat.clone()),
        ("note ", copy.note.clone()),
    ])
}

pub fn place(place: &SharedPlace) -> String {
    let around = place.uncertainty_m.map(|metres| format!(" ±{metres} m")).unwrap_or_default();
    let square = place.square.as_ref().map(|square| format!("{square}, centre ")).unwrap_or_default();
    format!("{square}{} {}{around}", place.latitude, place.longitude)
}

pub fn line<const N: usize>(parts: [(&str, Option<String>); N]) -> String {
    let said = parts.into_iter().filter_map(|(label, value)| Some(format!("{label}{}", value?)));
    format!("  {}", said.collect::<Vec<_>>().join(" · "))
}
