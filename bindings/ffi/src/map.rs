//! *The map*: patches, areas and finds laid flat, and the grid on whatever part of it is looked at.
//!
//! The core lays the map, so that a phone has only to move and scale it: points are metres east and north of the place that it is
//! laid about. What is on it is asked for once ([`Book::map_page`]); the grid and the words about a place ([`Book::map_sheet`])
//! whenever other land comes into view, best for more than is in view, so that fingers are ahead of no call.

use trug::area::Lies;
use trug::notebook::{self, Map, Spot};
use trug::place::{
    Axis, Flat, FlatPoint, GridLine, Place, Position, ROUND_LENGTHS, Window, bearing, distance, grid_lines,
    grid_north, reference,
};
use trug::units::Metres;

use crate::shared::{Fix, NameShown};
use crate::{Book, TrugError};

/// A point of the map.
#[derive(Debug, Clone, Copy, PartialEq, uniffi::Record)]
pub struct MapPoint {
    /// Metres east of the place that the map is laid about: to the right.
    pub east: f64,
    /// Metres north of it: up.
    pub north: f64,
}

/// Everything on the map.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct MapPage {
    /// The place that it is laid about; none if there is no place on record and none is known.
    pub about: Option<Fix>,
    /// How many metres from there are to be in view at first.
    pub reach_m: f64,
    /// How many metres from there the middle of the view may go: beyond, the map is to be laid afresh about it. North stays up to
    /// within a fraction of a degree, and finds are there to be seen.
    pub holds_m: f64,
    /// How many metres from there finds without a patch are shown.
    pub finds_within_m: f64,
    /// The patches, nearest first.
    pub patches: Vec<MapPatch>,
    /// The areas, nearest first.
    pub areas: Vec<MapArea>,
    /// The finds that belong to no patch, nearest first.
    pub finds: Vec<MapFind>,
    /// Lengths that read well on a scale bar or a ring of distance, the shortest first, in metres.
    pub round_m: Vec<f64>,
}

/// A patch on the map.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct MapPatch {
    /// Its id.
    pub id: String,
    /// What its owner calls it.
    pub name: Option<String>,
    /// What is looked for there.
    pub kind: Option<NameShown>,
    /// Its middle.
    pub at: MapPoint,
    /// How far it reaches from there, in metres.
    pub radius_m: f64,
    /// How far its middle is from whoever looks, in metres; none if nobody knows where they are.
    pub metres: Option<f64>,
    /// Which way, in degrees clockwise from true north; none if it is here.
    pub bearing: Option<f64>,
    /// The day of the last look: 2026-10-18.
    pub last_look: Option<String>,
    /// What came of it: nothing, seen, taken.
    pub last_outcome: Option<String>,
    /// The first day on which it may be gathered from again, while it rests.
    pub rests_until: Option<String>,
}

/// An area on the map.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct MapArea {
    /// Its id.
    pub id: String,
    /// What its owner calls it; its id if they did not say.
    pub name: String,
    /// Nothing is gathered there.
    pub closed: bool,
    /// Whether a code holds there besides.
    pub ruled: bool,
    /// The short title of that code; none for one that this version does not know.
    pub code: Option<String>,
    /// Closed lines; what lies within an odd number of them is inside.
    pub rings: Vec<Vec<MapPoint>>,
    /// A point well inside, for its name.
    pub at: MapPoint,
    /// How far that is from whoever looks, in metres; none if nobody knows where they are.
    pub metres: Option<f64>,
    /// Which way, in degrees clockwise from true north.
    pub bearing: Option<f64>,
    /// Whether whoever looks is in it, or as likely in it as their position can tell.
    pub around_here: bool,
}

/// A find on the map.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct MapFind {
    /// Its id.
    pub id: String,
    /// What it goes by; none while it has no name.
    pub name: Option<NameShown>,
    /// Where it is.
    pub at: MapPoint,
    /// The day: 2026-10-18.
    pub day: Option<String>,
    /// How far it is from whoever looks, in metres; none if nobody knows where they are.
    pub metres: Option<f64>,
    /// Which way, in degrees clockwise from true north; none if it is here.
    pub bearing: Option<f64>,
}

/// The part of the map that is looked at.
#[derive(Debug, Clone, Copy, PartialEq, uniffi::Record)]
pub struct MapWindow {
    /// The place that the map is laid about: [`MapPage::about`].
    pub about: Fix,
    /// Its middle.
    pub middle: MapPoint,
    /// How wide it is, in metres.
    pub across_m: f64,
    /// How high, in metres.
    pub up_m: f64,
    /// Lines of the grid may stand this close, in metres: what their names need, at the scale that the map is looked at.
    pub closest_m: f64,
}

/// The grid on a part of the map, and the words about it.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct MapSheet {
    /// How far apart the lines are, in metres; 0 where there are none.
    pub step_m: u32,
    /// The lines.
    pub lines: Vec<MapLine>,
    /// The names of the squares, where lines are 10 km apart or more.
    pub squares: Vec<MapSquare>,
    /// Which way true north is in the middle, in degrees clockwise from the top of the map.
    pub true_north: f64,
    /// Where the north of the grid lies from there, in degrees clockwise from true north; none where its grid ends.
    pub grid_north: Option<f64>,
    /// The middle as a place.
    pub middle: Fix,
    /// Its grid reference, no finer than it can be told on the map.
    pub middle_name: String,
    /// Whoever looks, if they know where they are.
    pub here: Option<MapHere>,
}

/// A line of the grid.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct MapLine {
    /// Whether all of it has the same easting; else it has the same northing.
    pub is_easting: bool,
    /// Its figures: "38", "387"; empty at 100 km.
    pub name: String,
    /// Whether it is a line of the next longer step too.
    pub is_tenth: bool,
    /// The points that it runs through, from the south or west.
    pub points: Vec<MapPoint>,
}

/// The name of a square of the grid.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct MapSquare {
    /// "SU31", "SU".
    pub name: String,
    /// Its middle.
    pub at: MapPoint,
}

/// Where whoever looks is on the map.
#[derive(Debug, Clone, PartialEq, uniffi::Record)]
pub struct MapHere {
    /// The point.
    pub at: MapPoint,
    /// The radius within which the true place is held to lie, in metres, if known.
    pub accuracy_m: Option<f64>,
    /// The grid reference, no finer than that.
    pub name: String,
    /// How far the middle of the view is from there, in metres.
    pub metres: f64,
    /// Which way, in degrees clockwise from true north; none if it is there.
    pub bearing: Option<f64>,
}

/// North stays up to within 0.3 degrees at 60° N as far from the middle as this, in metres.
const HOLDS: f64 = 1_000.0;
/// What stands on the map is told to this share of the distance at which lines may stand.
const TELLS_APART: f64 = 0.25;

#[uniffi::export]
impl Book {
    /// Everything on the map about a place, seen from here if the phone knows where that is. Without a place: about here, or else
    /// about what is on record.
    ///
    /// # Errors
    /// `paused`; `place-latitude`, `place-longitude`, `place-accuracy` for a place off the Earth.
    pub fn map_page(&self, here: Option<Fix>, about: Option<Fix>) -> Result<MapPage, TrugError> {
        let here = here.map(Fix::position).transpose()?;
        let about = about.map(Fix::position).transpose()?;
        let map = self.notebook.map(self.pack, here, about)?;
        Ok(map.map_or_else(nowhere, |map| self.shown_on_map(&map)))
    }

    /// The grid and the words for a part of the map.
    ///
    /// # Errors
    /// `place-latitude`, `place-longitude`, `place-accuracy` for a place off the Earth, or a window off the map.
    pub fn map_sheet(&self, here: Option<Fix>, window: MapWindow) -> Result<MapSheet, TrugError> {
        let here = here.map(Fix::position).transpose()?;
        let flat = Flat::about(window.about.position()?);
        let at = FlatPoint { east: window.middle.east, north: window.middle.north };
        let middle = flat.lift(at).ok_or(trug::place::Error::Latitude)?;
        let looked_at = Window { middle: at, across: window.across_m, up: window.up_m };
        let grid = grid_lines(flat, &looked_at, window.closest_m);
        Ok(MapSheet {
            step_m: grid.step,
            lines: grid.lines.iter().map(MapLine::from).collect(),
            squares: grid
                .squares
                .into_iter()
                .map(|square| MapSquare { name: square.name, at: square.at.into() })
                .collect(),
            true_north: flat.true_north(at),
            grid_north: grid_north(middle),
            middle: middle.into(),
            middle_name: reference(middle, window.closest_m * TELLS_APART),
            here: here.map(|here| MapHere {
                at: flat.lay(here).into(),
                accuracy_m: here.accuracy().map(Metres::get),
                name: Place::told(here).name(),
                metres: distance(here, middle).get(),
                bearing: bearing(here, middle),
            }),
        })
    }
}

fn nowhere() -> MapPage {
    MapPage {
        about: None,
        reach_m: 0.0,
        holds_m: 0.0,
        finds_within_m: 0.0,
        patches: Vec::new(),
        areas: Vec::new(),
        finds: Vec::new(),
        round_m: Vec::new(),
    }
}

impl Book {
    fn shown_on_map(&self, map: &Map) -> MapPage {
        let today = self.notebook.now().day();
        MapPage {
            about: Some(map.flat.middle().into()),
            reach_m: map.reach,
            holds_m: HOLDS,
            finds_within_m: Map::FINDS_WITHIN,
            patches: map.patches.iter().map(|patch| self.patch_on_map(patch, today)).collect(),
            areas: map.areas.iter().map(MapArea::from).collect(),
            finds: map.finds.iter().map(|find| self.find_on_map(find)).collect(),
            round_m: ROUND_LENGTHS.iter().copied().map(f64::from).collect(),
        }
    }

    fn patch_on_map(&self, on_map: &notebook::MapPatch, today: jiff::civil::Date) -> MapPatch {
        let patch = &on_map.record.patch.value;
        let Spot { at, distance, bearing } = on_map.spot;
        MapPatch {
            id: on_map.record.id.to_string(),
            name: patch.name.clone(),
            kind: patch.taxon.as_deref().map(|name| NameShown::of(self.pack, name)),
            at: at.into(),
            radius_m: patch.reach().get(),
            metres: distance.map(Metres::get),
            bearing,
            last_look: on_map.last_look.as_ref().map(|look| look.day.to_string()),
            last_outcome: on_map.last_look.as_ref().map(|look| look.outcome.word().to_owned()),
            rests_until: patch.rests_until.filter(|_| patch.rests_on(today)).map(|day| day.to_string()),
        }
    }

    fn find_on_map(&self, on_map: &notebook::MapFind) -> MapFind {
        let Spot { at, distance, bearing } = on_map.spot;
        MapFind {
            id: on_map.record.id.to_string(),
            name: on_map.goes_by.name.as_deref().map(|name| NameShown::of(self.pack, name)),
            at: at.into(),
            day: on_map.record.find.value.at.map(|at| at.day().to_string()),
            metres: distance.map(Metres::get),
            bearing,
        }
    }
}

impl From<&notebook::MapArea> for MapArea {
    fn from(on_map: &notebook::MapArea) -> Self {
        let Spot { at, distance, bearing } = on_map.spot;
        let rings = on_map.laid.rings.iter();
        Self {
            id: on_map.record.id.to_string(),
            name: on_map.record.name(),
            closed: on_map.record.area.value.closed == Some(true),
            ruled: on_map.record.area.value.code.is_some(),
            code: on_map.code.map(|code| code.about.short.clone()),
            rings: rings.map(|ring| ring.iter().copied().map(MapPoint::from).collect()).collect(),
            at: at.into(),
            metres: distance.map(Metres::get),
            bearing,
            around_here: on_map.lies == Some(Lies::Inside),
        }
    }
}

impl From<&GridLine> for MapLine {
    fn from(line: &GridLine) -> Self {
        Self {
            is_easting: line.axis == Axis::Easting,
            name: line.name.clone(),
            is_tenth: line.is_tenth,
            points: line.points.iter().copied().map(MapPoint::from).collect(),
        }
    }
}

impl From<FlatPoint> for MapPoint {
    fn from(FlatPoint { east, north }: FlatPoint) -> Self {
        Self { east, north }
    }
}

impl From<Position> for Fix {
    fn from(position: Position) -> Self {
        Self {
            latitude: position.latitude(),
            longitude: position.longitude(),
            accuracy_m: position.accuracy().map(Metres::get),
        }
    }
}
