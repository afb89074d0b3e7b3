//! The map: patches, areas and finds, laid flat about a place.

use super::record::Kept;
use super::today::named;
use super::{AreaRecord, FindRecord, Notebook, PatchRecord, kind};
use crate::allowance::GoesBy;
use crate::area::{Laid, Lies};
use crate::code::{self, Code};
use crate::error::Error;
use crate::find::Find;
use crate::pack::Pack;
use crate::patch::Look;
use crate::place::{Flat, FlatPoint, Position, bearing, distance};
use crate::store::{Criteria, Within};
use crate::units::Metres;

/// No more finds than this are shown: the nearest to the middle.
const MOST_FINDS: usize = 200;
/// How much is in view at first, in metres: a wood where nothing else says, and never less than a clearing or, where it is known
/// where one stands, more than a morning's walk (common practice, no source).
const WOOD: f64 = 500.0;
const CLEARING: f64 = 150.0;
const WALK: f64 = 3_000.0;
/// What is to be in view is to stand clear of the edge.
const ROOM: f64 = 1.3;

/// Everything on a map.
#[derive(Debug)]
pub struct Map {
    /// How it is laid.
    pub flat: Flat,
    /// How many metres from its middle are to be in view at first.
    pub reach: f64,
    /// The patches that have a place, nearest first.
    pub patches: Vec<MapPatch>,
    /// The areas, nearest first; those without an outline that this version can read are left out.
    pub areas: Vec<MapArea>,
    /// Finds about the middle that belong to no patch, nearest first.
    pub finds: Vec<MapFind>,
}

impl Map {
    /// Finds that belong to no patch are on the map as far as this from its middle, in metres.
    pub const FINDS_WITHIN: f64 = 4_000.0;
}

/// Where something lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spot {
    /// On the map.
    pub at: FlatPoint,
    /// How far from whoever looks, if they know where they are.
    pub distance: Option<Metres>,
    /// Which way, in degrees clockwise from true north; `None` if it is here.
    pub bearing: Option<f64>,
}

/// A patch on the map.
#[derive(Debug)]
pub struct MapPatch {
    /// The patch.
    pub record: PatchRecord,
    /// Its middle.
    pub spot: Spot,
    /// The latest look at it.
    pub last_look: Option<Look>,
}

/// An area on the map.
#[derive(Debug)]
pub struct MapArea {
    /// The area.
    pub record: AreaRecord,
    /// The code that holds there besides, if this version knows it.
    pub code: Option<&'static Code>,
    /// Its outline.
    pub laid: Laid,
    /// Where its name may stand.
    pub spot: Spot,
    /// How whoever looks lies to it, if they know where they are.
    pub lies: Option<Lies>,
}

/// A find on the map.
#[derive(Debug)]
pub struct MapFind {
    /// The find.
    pub record: FindRecord,
    /// What it goes by.
    pub goes_by: GoesBy,
    /// Where it is.
    pub spot: Spot,
}

/// Who looks, and at what.
struct Looking {
    flat: Flat,
    here: Option<Position>,
}

impl Looking {
    fn spot(&self, place: Position) -> Spot {
        Spot {
            at: self.flat.lay(place),
            distance: self.here.map(|here| distance(here, place)),
            bearing: self.here.and_then(|here| bearing(here, place)),
        }
    }

    /// How far something is from whoever looks, or else from the middle of the map: what is nearest comes first.
    fn far(spot: &Spot) -> f64 {
        spot.distance.map_or_else(|| spot.at.east.hypot(spot.at.north), Metres::get)
    }

    fn nearest_first<T>(things: &mut [T], spot: impl Fn(&T) -> &Spot) {
        things.sort_by(|a, b| Self::far(spot(a)).total_cmp(&Self::far(spot(b))));
    }
}

impl Notebook {
    /// Everything on the map about a place; without one, about where one stands, or else about the patches, the areas, or the last find.
    /// `None` if there is no place at all that it could be about.
    ///
    /// # Errors
    /// If the view cannot be read.
    pub fn map(
        &self,
        pack: &Pack,
        here: Option<Position>,
        about: Option<Position>,
    ) -> Result<Option<Map>, Error> {
        let patches = self.patches(&Criteria::default())?;
        let areas = self.areas()?;
        let Some(middle) =
            about.or(here).map_or_else(|| self.known_middle(&patches, &areas), |at| Ok(Some(at)))?
        else {
            return Ok(None);
        };
        let looking = Looking { flat: Flat::about(middle), here };
        let patches = self.patches_on(&looking, patches)?;
        let areas = areas_on(&looking, areas);
        let finds = self.finds_on(&looking, pack)?;
        let reach = reach(here, &patches, &areas);
        Ok(Some(Map { flat: looking.flat, reach, patches, areas, finds }))
    }

    fn known_middle(&self, patches: &[PatchRecord], areas: &[AreaRecord]) -> Result<Option<Position>, Error> {
        let centres: Vec<Position> = patches.iter().filter_map(|one| one.patch.value.centre).collect();
        if let Some(middle) = middle(&centres) {
            return Ok(Some(middle));
        }
        let inside = |area: &AreaRecord| {
            // Any place serves to lay an outline about while it is not known where it is.
            let flat = Flat::about(Position::new(0.0, 0.0).ok()?);
            flat.lift(area.area.value.outline.as_ref()?.laid(flat)?.inside)
        };
        let insides: Vec<Position> = areas.iter().filter_map(inside).collect();
        if let Some(middle) = middle(&insides) {
            return Ok(Some(middle));
        }
        let finds = self.read(|view| view.matching(kind::FIND, &Criteria::default()))?;
        let place = |find: Find| find.position.map(|at| at.position);
        Ok(finds.iter().rev().find_map(|record| place(Kept::from(record).value)))
    }

    fn patches_on(&self, looking: &Looking, patches: Vec<PatchRecord>) -> Result<Vec<MapPatch>, Error> {
        let mut on_map = Vec::with_capacity(patches.len());
        for record in patches.into_iter().filter(|record| !record.patch.deleted) {
            let Some(centre) = record.patch.value.centre else { continue };
            let last_look = self.last_look(record.id)?;
            on_map.push(MapPatch { spot: looking.spot(centre), record, last_look });
        }
        Looking::nearest_first(&mut on_map, |patch| &patch.spot);
        Ok(on_map)
    }

    fn finds_on(&self, looking: &Looking, pack: &Pack) -> Result<Vec<MapFind>, Error> {
        let within = Within { of: looking.flat.middle(), metres: Metres::nearest(Map::FINDS_WITHIN) };
        let near = Criteria { within: Some(within), ..Criteria::default() };
        let records = self.read(|view| view.matching(kind::FIND, &near))?;
        let loose = records.iter().filter(|record| Kept::<Find>::from(record).value.patch.is_none());
        let mut finds = Vec::new();
        for record in loose.take(MOST_FINDS) {
            let record = self.find(record.id.into())?;
            let Some(place) = record.find.value.position.as_ref().map(|at| at.position) else { continue };
            finds.push(MapFind { spot: looking.spot(place), goes_by: named(pack, &record), record });
        }
        Looking::nearest_first(&mut finds, |find| &find.spot);
        Ok(finds)
    }
}

fn areas_on(looking: &Looking, areas: Vec<AreaRecord>) -> Vec<MapArea> {
    let codes = code::shipped().unwrap_or_default();
    let on_map = areas.into_iter().filter_map(|record| {
        let area = &record.area.value;
        let outline = area.outline.as_ref()?;
        let laid = outline.laid(looking.flat)?;
        let code = area.code.as_deref().and_then(|id| code::by_id(codes, id).ok());
        let lies = looking.here.map(|here| outline.whereto(here));
        let spot = looking.spot(looking.flat.lift(laid.inside)?);
        Some(MapArea { record, code, laid, spot, lies })
    });
    let mut on_map: Vec<MapArea> = on_map.collect();
    Looking::nearest_first(&mut on_map, |area| &area.spot);
    on_map
}

/// The middle of the least box about places.
fn middle(places: &[Position]) -> Option<Position> {
    let flat = Flat::about(*places.first()?);
    let (mut low, mut high) = (FlatPoint::MIDDLE, FlatPoint::MIDDLE);
    for at in places.iter().map(|place| flat.lay(*place)) {
        low = FlatPoint { east: low.east.min(at.east), north: low.north.min(at.north) };
        high = FlatPoint { east: high.east.max(at.east), north: high.north.max(at.north) };
    }
    flat.lift(FlatPoint {
        east: f64::midpoint(low.east, high.east),
        north: f64::midpoint(low.north, high.north),
    })
}

/// How far from its middle a map is to reach at first: to the nearest patch, within a walk, of whoever knows where they stand; to
/// all patches, or all areas, of whoever does not.
fn reach(here: Option<Position>, patches: &[MapPatch], areas: &[MapArea]) -> f64 {
    let away = |at: &FlatPoint| at.east.hypot(at.north);
    if here.is_some() {
        let nearest = patches.first().map_or(WOOD / 2.0, |patch| {
            patch.spot.distance.map_or(0.0, Metres::get) + patch.record.patch.value.reach().get()
        });
        let nearest = if nearest > WALK / 2.0 { WOOD / 2.0 } else { nearest };
        return (nearest * ROOM).max(CLEARING / 2.0);
    }
    let patches = patches.iter().map(|patch| away(&patch.spot.at) + patch.record.patch.value.reach().get());
    let areas = areas.iter().flat_map(|area| area.laid.rings.iter().flatten()).map(away);
    let to_patches = patches.fold(0.0, f64::max);
    let all = if to_patches > 0.0 { to_patches } else { areas.fold(0.0, f64::max) };
    if all > 0.0 { (all * ROOM).max(CLEARING / 2.0) } else { WOOD / 2.0 }
}
