//! The lines of the grid on a map, each with the figures that it is known by, and the names of its squares.

use super::frame::{Frame, Metres2};
use super::{Flat, FlatPoint, Grid, MgrsSquare, Position, Side, Square};

/// Lines stand so many metres apart: each step is ten times the one before, as grid references are.
const STEPS: [u32; 5] = [10, 100, 1_000, 10_000, 100_000];
/// Figures repeat every 100 km.
const LETTERED: u32 = 100_000;
/// A map wider or higher than this, in metres, is of the Earth and not of the land: it has no grid.
const WIDEST: f64 = 5_000_000.0;
/// No more lines than about this many cross a map either way, whatever is asked for.
const MOST: f64 = 100.0;
/// Which grids hold on a map is looked up at so many places either way; a corner of another between them has no lines.
const LATTICE: u32 = 12;
/// Lines on a map no wider than this, in metres, bend by less than they are drawn wide when given in few pieces.
const LOCAL: f64 = 20_000.0;
const FEW_PIECES: u32 = 8;
const MANY_PIECES: u32 = 40;

/// The part of a flat map that is looked at.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Window {
    /// Its middle.
    pub middle: FlatPoint,
    /// How wide it is, in metres.
    pub across: f64,
    /// How high, in metres.
    pub up: f64,
}

impl Window {
    fn is_drawable(&self) -> bool {
        let fits = |metres: f64| metres > 0.0 && metres <= WIDEST;
        fits(self.across) && fits(self.up) && self.middle.east.is_finite() && self.middle.north.is_finite()
    }

    /// The point at so much of its width and height, each from 0 to 1.
    fn point(&self, across: f64, up: f64) -> FlatPoint {
        let FlatPoint { east, north } = self.middle;
        FlatPoint { east: east + (across - 0.5) * self.across, north: north + (up - 0.5) * self.up }
    }

    fn holds(&self, at: FlatPoint) -> bool {
        (at.east - self.middle.east).abs() <= self.across / 2.0
            && (at.north - self.middle.north).abs() <= self.up / 2.0
    }
}

/// What all points of a line have in common.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Axis {
    /// Their easting: the line runs to the grid's north.
    Easting,
    /// Their northing: the line runs to the grid's east.
    Northing,
}

/// A line of a grid, or the part of it that lies on the map and where its grid holds.
#[derive(Debug, Clone, PartialEq)]
pub struct GridLine {
    /// Which way it runs.
    pub axis: Axis,
    /// Its figures, as they stand in a grid reference of the map's step: "38" where lines are 1 km apart, "387" at 100 m.
    /// Empty at 100 km, where squares have letters only.
    pub name: String,
    /// Whether it is a line of the next longer step too.
    pub is_tenth: bool,
    /// The points that it runs through, two at least, from the south or west.
    pub points: Vec<FlatPoint>,
}

/// The name of a square, and where its middle lies.
#[derive(Debug, Clone, PartialEq)]
pub struct SquareName {
    /// As recorders write it: "SU31", "SU", "30UXC90".
    pub name: String,
    /// The middle.
    pub at: FlatPoint,
}

/// The grid on a map.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct GridLines {
    /// How far apart its lines are, in metres; 0 where there are none.
    pub step: u32,
    /// The lines, grid by grid.
    pub lines: Vec<GridLine>,
    /// The names of the squares of 10 and 100 km, where lines are so far apart; finer ones are read off the lines.
    pub squares: Vec<SquareName>,
}

/// The lines of the grid that holds there, or of all that do, on part of a flat map: the finest that stand no closer
/// than so many metres. None where that is more than 100 km, nor on a window wider or higher than 5,000 km.
#[must_use]
pub fn grid_lines(flat: Flat, window: &Window, closest: f64) -> GridLines {
    let least = closest.max(window.across.max(window.up) / MOST);
    let step = STEPS.into_iter().find(|step| f64::from(*step) >= least);
    let Some(step) = step.filter(|_| window.is_drawable() && closest.is_finite()) else {
        return GridLines::default();
    };
    let mut grid = GridLines { step, ..GridLines::default() };
    for (frame, extent) in frames(flat, window) {
        let sheet = Sheet { flat, window, frame, extent, step };
        for axis in [Axis::Easting, Axis::Northing] {
            sheet.lines(axis, &mut grid.lines);
        }
        if step >= Side::Hectad.metres() {
            sheet.squares(&mut grid.squares);
        }
    }
    grid
}

/// The least and greatest easting and northing, in metres.
#[derive(Clone, Copy)]
struct Extent {
    east: (f64, f64),
    north: (f64, f64),
}

impl Extent {
    fn taking_in(self, (east, north): Metres2) -> Self {
        let wider = |span: (f64, f64), to: f64| (span.0.min(to), span.1.max(to));
        Self { east: wider(self.east, east), north: wider(self.north, north) }
    }

    fn wider(self, by: f64) -> Self {
        let wider = |span: (f64, f64)| (span.0 - by, span.1 + by);
        Self { east: wider(self.east), north: wider(self.north) }
    }
}

/// The grids that hold in a window, each with how much of it lies there.
fn frames(flat: Flat, window: &Window) -> Vec<(Frame, Extent)> {
    let mut frames: Vec<(Frame, Extent)> = Vec::new();
    let share = |n: u32| f64::from(n) / f64::from(LATTICE);
    let lattice = (0..=LATTICE).flat_map(|up| (0..=LATTICE).map(move |across| (share(across), share(up))));
    for (across, up) in lattice {
        let position = flat.lift(window.point(across, up));
        let Some((frame, at)) = position.and_then(Frame::at) else { continue };
        match frames.iter_mut().find(|(known, _)| *known == frame) {
            Some((_, extent)) => *extent = extent.taking_in(at),
            None => frames.push((frame, Extent { east: (at.0, at.0), north: (at.1, at.1) })),
        }
    }
    // What lies between the places looked at belongs to it too: to the diagonal of their mesh, and a bit for the scale.
    let mesh = window.across.hypot(window.up) / f64::from(LATTICE) * 1.01;
    frames.into_iter().map(|(frame, extent)| (frame, extent.wider(mesh))).collect()
}

/// One grid on a window.
struct Sheet<'a> {
    flat: Flat,
    window: &'a Window,
    frame: Frame,
    extent: Extent,
    step: u32,
}

impl Sheet<'_> {
    fn lines(&self, axis: Axis, lines: &mut Vec<GridLine>) {
        let (these, along) = match axis {
            Axis::Easting => (self.extent.east, self.extent.north),
            Axis::Northing => (self.extent.north, self.extent.east),
        };
        for metres in multiples(these, self.step) {
            let name = figures(metres, self.step);
            let is_tenth = metres.rem_euclid(i64::from(self.step) * 10) == 0;
            let fixed = to_f64(metres);
            let at = |share: f64| {
                let other = along.0 + share * (along.1 - along.0);
                self.laid(match axis {
                    Axis::Easting => (fixed, other),
                    Axis::Northing => (other, fixed),
                })
            };
            for points in self.runs(at) {
                lines.push(GridLine { axis, name: name.clone(), is_tenth, points });
            }
        }
    }

    /// Where a point of the grid comes to lie, if the grid holds there.
    fn laid(&self, at: Metres2) -> Option<FlatPoint> {
        self.held(at).map(|position| self.flat.lay(position))
    }

    fn held(&self, at: Metres2) -> Option<Position> {
        let position = self.frame.position(at)?;
        (Frame::at(position)?.0 == self.frame).then_some(position)
    }

    /// The pieces of a line where its grid holds, its points given by how much of it lies before them.
    fn runs(&self, at: impl Fn(f64) -> Option<FlatPoint>) -> Vec<Vec<FlatPoint>> {
        let size = self.window.across.max(self.window.up);
        let pieces = if size <= LOCAL { FEW_PIECES } else { MANY_PIECES };
        let mut runs: Vec<Vec<FlatPoint>> = Vec::new();
        let mut run: Vec<FlatPoint> = Vec::new();
        let mut before: Option<(f64, bool)> = None;
        for n in 0..=pieces {
            let share = f64::from(n) / f64::from(pieces);
            let here = at(share);
            match before {
                // The grid ends, or begins, between the two: the last point that it holds at is looked for.
                Some((last, true)) if here.is_none() => run.extend(edge(&at, last, share)),
                Some((last, false)) if here.is_some() => run.extend(edge(&at, share, last)),
                _ => {}
            }
            match here {
                Some(point) => run.push(point),
                None => runs.push(std::mem::take(&mut run)),
            }
            before = Some((share, here.is_some()));
        }
        runs.push(run);
        runs.retain(|run| run.len() > 1);
        for run in &mut runs {
            straighten(run, size / 5_000.0);
        }
        runs
    }

    fn squares(&self, squares: &mut Vec<SquareName>) {
        let half = f64::from(self.step) / 2.0;
        for east in multiples(self.extent.east, self.step) {
            for north in multiples(self.extent.north, self.step) {
                let middle = (to_f64(east) + half, to_f64(north) + half);
                let Some(position) = self.held(middle) else { continue };
                let at = self.flat.lay(position);
                let name = self.square(position, middle).filter(|_| self.window.holds(at));
                squares.extend(name.map(|name| SquareName { name, at }));
            }
        }
    }

    fn square(&self, position: Position, (easting, northing): Metres2) -> Option<String> {
        let by_letters = self.step == LETTERED;
        let national = |grid: Grid| Square::containing(grid, easting, northing, Side::Hectad);
        Some(match self.frame {
            Frame::National(grid) if by_letters => national(grid)?.letters(),
            Frame::National(grid) => national(grid)?.to_string(),
            Frame::Military(_) => {
                let square = MgrsSquare::containing(position, Side::Hectad).ok()?;
                if by_letters { square.letters().to_owned() } else { square.to_string() }
            }
        })
    }
}

/// The multiples of a step within a span, in metres.
fn multiples((from, to): (f64, f64), step: u32) -> impl Iterator<Item = i64> {
    let step_metres = f64::from(step);
    #[expect(clippy::cast_possible_truncation, reason = "grids end within 20,000 km")]
    let (first, last) = ((from / step_metres).ceil() as i64, (to / step_metres).floor() as i64);
    (first..=last).map(move |n| n * i64::from(step))
}

fn to_f64(metres: i64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "grids end within 20,000 km")]
    let metres = metres as f64;
    metres
}

/// The figures of a line within its 100 km square, as many as a step leaves.
fn figures(metres: i64, step: u32) -> String {
    let count = (LETTERED / step).checked_ilog10().unwrap_or(0) as usize;
    if count == 0 {
        return String::new();
    }
    format!("{:0count$}", metres.rem_euclid(i64::from(LETTERED)) / i64::from(step))
}

/// The last point of a line on the way from a share where its grid holds to one where it does not.
fn edge(at: impl Fn(f64) -> Option<FlatPoint>, holds: f64, ends: f64) -> Option<FlatPoint> {
    let (mut holds, mut ends, mut found) = (holds, ends, None);
    for _ in 0..12 {
        let between = f64::midpoint(holds, ends);
        match at(between) {
            Some(point) => (holds, found) = (between, Some(point)),
            None => ends = between,
        }
    }
    found
}

/// Leaves only its ends of a line that is straight to within so many metres.
fn straighten(points: &mut Vec<FlatPoint>, within: f64) {
    let (Some(first), Some(last)) = (points.first().copied(), points.last().copied()) else { return };
    let (east, north) = (last.east - first.east, last.north - first.north);
    let length = east.hypot(north);
    let off = |at: &FlatPoint| ((at.east - first.east) * north - (at.north - first.north) * east).abs();
    if points.iter().all(|at| off(at) <= within * length) {
        *points = vec![first, last];
    }
}

#[cfg(test)]
mod tests;
