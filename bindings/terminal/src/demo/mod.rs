//! `trug demo`: an invented outing in invented woods, played through the same notebook that everyone uses.

mod camera;
mod draw;

use std::fs;
use std::path::{Path, PathBuf};

use clap::Args;
use jiff::civil::{Date, DateTime, date};
use serde_json::json;
use trug::find::{Count, Find, Ground, Growth, Host, How, Measured, Substrate, Sure, Width};
use trug::id::FindId;
use trug::moment::Moment;
use trug::notebook::{NewFind, NewName, NewPhoto, Notebook};
use trug::outing::{Outing, Permission};
use trug::pack::Pack;
use trug::photo::Role;
use trug::store::Criteria;
use trug::units::Millimetres;

use crate::Done;
use crate::advise;
use crate::answer::{Answer, Refusal};
use crate::key::{self, Answers};
use crate::show;
use camera::Shot;
use draw::Scene;

/// The woods are invented, so they stand where no wood can: on the water of the Wash.
const HARROW_SHAW: (f64, f64) = (52.930_0, 0.260_0);

/// Midwinter, when cups, ears and velvet shanks are out.
const DAY: Date = date(2026, 1, 17);

/// What was seen of the tuft in the wood.
const TUFT: [&str; 14] = [
    "form=gilled",
    "growth=tuft",
    "substrate=stump",
    "host=oak",
    "month=1",
    "cap-colour=orange",
    "cap-viscid=slimy",
    "cap-width=18-46",
    "gill-attachment=adnate",
    "gill-colour-mature=cream",
    "stem-colour=two-toned",
    "stem-surface=velvety",
    "stem-flesh=tough",
    "ring=absent",
];
/// What was seen of the cups.
const CUPS: [&str; 8] = [
    "form=cup",
    "substrate=branch",
    "host=hazel?",
    "ground=chalk",
    "month=1",
    "cap-colour=red",
    "cup-inside=smooth",
    "cup-outside=felted",
];
/// What a glance in the rain showed of the ears.
const EARS: [&str; 4] = ["form=ear", "host=elder", "cap-colour=brown", "texture=rubbery,gelatinous"];

#[derive(Debug, Args)]
pub struct Command {
    /// The folder to leave; it must not be there yet.
    #[arg(long, value_name = "DIR", default_value = "trug-demo")]
    into: PathBuf,
}

/// The teller: what was done so far, in words.
struct Tale {
    notebook: Notebook,
    pictures: PathBuf,
    told: Vec<String>,
}

pub fn run(command: &Command) -> Done {
    let into = &command.into;
    if into.exists() {
        return Err(Refusal::new("in-the-way", "that folder is there already: name another with --into"));
    }
    fs::create_dir_all(into.join("photographs"))?;
    let notebook = Notebook::open(&into.join("notebook"))?;
    let mut tale = Tale { notebook, pictures: into.join("photographs"), told: Vec::new() };
    tale.outing()?;
    let report = tale.notebook.check(&trug::progress::Unwatched)?;
    tale.tell(format!(
        "The notebook was checked: {} finds, {} photos, all whole.",
        report.finds, report.photos
    ));
    let shown = into.join("notebook");
    tale.tell(format!("Look around in it:\n  trug --notebook {} find list", shown.display()));
    let finds = tale.notebook.finds(&Criteria::default())?;
    Ok(Answer::new(tale.told.join("\n\n"), &json!({"notebook": shown, "finds": finds})))
}

impl Tale {
    fn tell(&mut self, words: impl Into<String>) {
        self.told.push(words.into().trim_end().to_owned());
    }

    fn outing(&mut self) -> Result<(), Refusal> {
        self.tell("An invented outing in invented woods. People, places and finds are made up; the photographs are drawn.");
        let outing = self.notebook.start_outing(Outing {
            start: Some(moment(DAY.at(13, 30, 0, 0))?),
            place: Some("Harrow Shaw and Lidgate Hanger (invented)".into()),
            permission: Some(Permission::Permitted),
            people: Some(vec!["R.".into()]),
            ..Outing::default()
        })?;
        self.tell(show::outing(&outing));
        self.tuft()?;
        self.cups()?;
        self.ears()?;
        let end = moment(DAY.at(16, 10, 0, 0))?;
        let outing = self.notebook.end_outing(Some(end))?;
        self.tell(format!("Home before dark.\n{}", show::outing(&outing)));
        Ok(())
    }

    fn tuft(&mut self) -> Result<(), Refusal> {
        self.tell("A tuft on a fallen oak. Three photographs, and it exists; the rest can wait.");
        let photos = vec![
            self.shoot("tuft", Role::Whole, draw::tuft(), (0, 0, 40))?,
            self.shoot("underside", Role::Underside, draw::underside((246, 236, 206)), (0, 0, 55))?,
            self.shoot("base", Role::StemBase, draw::base(), (0, 1, 20))?,
        ];
        let id = self.keep(Find::default(), photos)?;
        self.tell("Cold hands: the details one by one, each kept at once.");
        let details = Find {
            on: Some(Substrate::FallenTrunk),
            host: Some(Host { tree: "oak".into(), sure: Sure::Likely }),
            growth: Some(Growth::Tuft),
            seen: Count::exactly(7).ok(),
            width: width(18.0, 46.0),
            measured: Some(Measured::Rule),
            signs: Some(signs(&["cap-open", "firm"])),
            ..Find::default()
        };
        let find = self.notebook.amend_find(id, &details, &[])?;
        self.tell(show::find(&find));
        self.tell("Nine, says a second look; then, no, seven it was. Undo.");
        self.notebook.amend_find(id, &Find { seen: Count::exactly(9).ok(), ..Find::default() }, &[])?;
        let find = self.notebook.undo_find(id)?;
        self.tell(format!(
            "  seen       {}",
            find.find.value.seen.map_or_else(String::new, |n| n.to_string())
        ));
        self.tell("R. has a name for it, on sight. It is kept as R.'s word.");
        let name = NewName {
            taxon: Some("velvet-shank".into()),
            how: Some(How::Sight),
            sure: Some(Sure::Likely),
            who: Some("R.".into()),
            ..NewName::default()
        };
        let named = self.notebook.name_find(id, name)?;
        self.tell(show::named(&named));
        self.ask("What does the key say, from what can be seen here?", id, &TUFT)?;
        self.advise(
            "So none for the basket, and one goes home for a print, apart from everything else:",
            id,
        )?;
        self.notebook.amend_find(id, &Find { specimens: Some(1), ..Find::default() }, &[])?;
        let print = self.shoot("print", Role::SporePrint, draw::print((250, 250, 246)), (18, 20, 0))?;
        let (photos, said) = self.notebook.add_photos(id, &[print])?;
        self.tell(format!(
            "Next morning: a white print. {}",
            show::photos_added(&id.to_string(), photos.len(), &said)
        ));
        let with_print = [&TUFT[..], &["spore-print=white"]].concat();
        self.ask("The same answers, and the print.", id, &with_print)?;
        self.advise("Had that been known in the wood:", id)
    }

    fn cups(&mut self) -> Result<(), Refusal> {
        self.tell("Lidgate Hanger, on the chalk: red cups on a hazel stick. Left to grow on.");
        let photos = vec![self.shoot("cups", Role::Whole, draw::cups(), (1, 5, 0))?];
        let find = Find {
            on: Some(Substrate::FallenBranch),
            host: Some(Host { tree: "hazel".into(), sure: Sure::Guess }),
            ground: Some(Ground::Chalk),
            growth: Some(Growth::Scattered),
            seen: Count::exactly(4).ok(),
            width: width(8.0, 18.0),
            signs: Some(signs(&["cup-opening"])),
            taken: Some(0),
            ..Find::default()
        };
        let id = self.keep(find, photos)?;
        self.ask("The key, on what a closer look shows:", id, &CUPS)?;
        self.advise("A name is not yet a reason to pick:", id)
    }

    fn ears(&mut self) -> Result<(), Refusal> {
        self.tell("Brown ears on elder, by the gate. It rains harder: a photograph, a glance, and on.");
        let photos = vec![self.shoot("ears", Role::Whole, draw::ears(), (2, 15, 0))?];
        let find = Find {
            on: Some(Substrate::StandingTrunk),
            host: Some(Host { tree: "elder".into(), sure: Sure::Sure }),
            seen: Count::between(18, 22).ok(),
            width: width(20.0, 60.0),
            signs: Some(signs(&["rubbery"])),
            taken: Some(0),
            note: Some("look again when it is dry".into()),
            ..Find::default()
        };
        let id = self.keep(find, photos)?;
        self.ask("A glance is not enough, and the key says so:", id, &EARS)?;
        self.advise("And what has no name stays where it is:", id)
    }

    /// Puts a find to the key, and tells what it said.
    fn ask(&mut self, words: &str, id: FindId, answers: &[&str]) -> Result<(), Refusal> {
        let pack = Pack::britain()?;
        let request = Answers::of(answers).request(pack)?;
        let keyed = self.notebook.key_find(&crate::key::key(pack), id, &request, None)?;
        self.tell(format!("{words}\n  {}", answers.join(", ")));
        self.tell(key::brief(pack, &keyed.step));
        Ok(())
    }

    /// Asks how much of a find may be taken, keeps the answer with it, and tells it.
    fn advise(&mut self, words: &str, id: FindId) -> Result<(), Refusal> {
        let advice = advise::for_kept_find(&self.notebook, Pack::britain()?, id)?;
        self.tell(format!("{words}\n{}", indented(&advise::told(&advice, false))));
        Ok(())
    }

    fn keep(&mut self, find: Find, photos: Vec<NewPhoto>) -> Result<FindId, Refusal> {
        let added = self.notebook.add_find(NewFind { find, photos })?;
        self.tell(show::added(&added));
        Ok(added.id)
    }

    /// Draws a scene and writes it as the camera would have, so long after half past one.
    fn shoot(
        &self,
        name: &str,
        role: Role,
        scene: Option<Scene>,
        after: (i64, i64, i64),
    ) -> Result<NewPhoto, Refusal> {
        let picture = scene.and_then(Scene::into_image);
        let picture = picture.ok_or_else(|| Refusal::new("drawing", "a photograph could not be drawn"))?;
        let seconds = after.0 * 3600 + after.1 * 60 + after.2;
        let at = DAY.at(13, 35, 0, 0).saturating_add(jiff::SignedDuration::from_secs(seconds));
        // A walk of some 200 m an hour: finds lie apart, photos of one find do not.
        #[allow(clippy::cast_precision_loss, reason = "a few thousand seconds")]
        let walked = (after.0.min(3) * 3600) as f64 / 3600.0 * 0.002;
        let shot = Shot { at, latitude: HARROW_SHAW.0 + walked, longitude: HARROW_SHAW.1 + walked };
        let path = self.pictures.join(format!("{name}.jpg"));
        fs::write(&path, camera::jpeg(&picture, &shot)?)?;
        Ok(NewPhoto { path: absolute(&path), role })
    }
}

fn absolute(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_owned())
}

fn indented(text: &str) -> String {
    text.lines().map(|line| format!("  {line}")).collect::<Vec<_>>().join("\n")
}

fn signs(ids: &[&str]) -> Vec<String> {
    ids.iter().map(ToString::to_string).collect()
}

fn width(least: f64, most: f64) -> Option<Width> {
    Width::new(Millimetres::new(least).ok()?, None, Millimetres::new(most).ok()?).ok()
}

/// A time of the invented day, by a clock in Britain's winter time.
fn moment(at: DateTime) -> Result<Moment, Refusal> {
    format!("{at}+00:00").parse().map_err(|e| Refusal::new("time", format!("{e}")))
}
