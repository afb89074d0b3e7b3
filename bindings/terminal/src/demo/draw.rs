//! The photographs of the invented outing, drawn: shapes and shading enough to tell what they stand for.

use image::{DynamicImage, RgbImage};
use tiny_skia::{
    Color, FillRule, GradientStop, LineCap, LinearGradient, Paint, Path, PathBuilder, Pixmap, Point,
    RadialGradient, Rect, SpreadMode, Stroke, Transform,
};

pub const WIDTH: u32 = 1600;
pub const HEIGHT: u32 = 1200;

type Rgb = (u8, u8, u8);

/// A picture being drawn; steps that cannot be drawn leave no mark.
pub struct Scene(Pixmap);

impl Scene {
    /// A bare ground, lit from above: a table, a board.
    pub fn bare(ground: Rgb, light: Rgb) -> Option<Self> {
        let mut scene = Self(Pixmap::new(WIDTH, HEIGHT)?);
        let whole = Rect::from_xywh(0.0, 0.0, 1600.0, 1200.0)?;
        let paint = shaded((0.0, 0.0), (0.0, 1200.0), light, ground)?;
        scene.0.fill_rect(whole, &paint, Transform::identity(), None);
        Some(scene)
    }

    /// A floor of leaves under a dim sky.
    pub fn new(ground: Rgb, light: Rgb) -> Option<Self> {
        let mut scene = Self::bare(ground, light)?;
        for n in 0..320_u16 {
            let (x, y) = (scatter(n, 1) * 1600.0, 500.0 + scatter(n, 2) * 700.0);
            let leaf = darker(mixed(ground, light, scatter(n, 3)), 0.8);
            let turn = Transform::from_rotate_at(scatter(n, 4) * 180.0, x, y);
            scene.oval_turned(x, y, 46.0, 17.0, leaf, turn);
        }
        Some(scene)
    }

    fn fill(&mut self, path: &Path, paint: &Paint<'_>, turn: Transform) {
        self.0.fill_path(path, paint, FillRule::Winding, turn, None);
    }

    fn oval_turned(&mut self, x: f32, y: f32, across: f32, down: f32, colour: Rgb, turn: Transform) {
        let paint = plain(colour);
        if let Some(path) = oval(x, y, across, down) {
            self.fill(&path, &paint, turn);
        }
    }

    /// An oval lit from above on the left.
    pub fn ball(&mut self, x: f32, y: f32, across: f32, down: f32, colour: Rgb) {
        let lit = (x - across * 0.35, y - down * 0.5);
        let (Some(path), Some(paint)) = (oval(x, y, across, down), glow(lit, across * 1.5, colour)) else {
            return;
        };
        self.fill(&path, &paint, Transform::identity());
    }

    /// A cap seen from the side: domed above, nearly flat beneath.
    pub fn cap(&mut self, x: f32, y: f32, across: f32, colour: Rgb) {
        let mut path = PathBuilder::new();
        path.move_to(x - across, y);
        path.cubic_to(
            x - across * 0.8,
            y - across * 0.95,
            x + across * 0.8,
            y - across * 0.95,
            x + across,
            y,
        );
        path.quad_to(x, y + across * 0.28, x - across, y);
        path.close();
        let (Some(path), Some(paint)) =
            (path.finish(), glow((x - across * 0.3, y - across * 0.6), across * 1.5, colour))
        else {
            return;
        };
        self.fill(&path, &paint, Transform::identity());
    }

    /// A line of some thickness, paler above and darker below: a stem, a stick.
    pub fn stem(&mut self, from: (f32, f32), to: (f32, f32), thick: f32, above: Rgb, below: Rgb) {
        let mut path = PathBuilder::new();
        path.move_to(from.0, from.1);
        path.quad_to(from.0 + (to.0 - from.0) * 0.2, f32::midpoint(from.1, to.1), to.0, to.1);
        let (Some(path), Some(paint)) = (path.finish(), shaded(from, to, above, below)) else { return };
        let stroke = Stroke { width: thick, line_cap: LineCap::Round, ..Stroke::default() };
        self.0.stroke_path(&path, &paint, &stroke, Transform::identity(), None);
    }

    /// Lines from a middle to a rim: gills from beneath, or what they dropped.
    pub fn rays(&mut self, x: f32, y: f32, inner: f32, outer: f32, colour: Rgb, many: u16) {
        let paint = plain(colour);
        let stroke = Stroke { width: 5.0, ..Stroke::default() };
        for n in 0..many {
            let (sin, cos) = (f32::from(n) / f32::from(many) * std::f32::consts::TAU).sin_cos();
            let mut path = PathBuilder::new();
            path.move_to(x + cos * inner, y + sin * inner);
            path.line_to(x + cos * outer, y + sin * outer);
            if let Some(path) = path.finish() {
                self.0.stroke_path(&path, &paint, &stroke, Transform::identity(), None);
            }
        }
    }

    /// A sheet of paper, for a print to lie on.
    pub fn sheet(&mut self, x: f32, y: f32, across: f32, down: f32, colour: Rgb) {
        if let Some(rect) = Rect::from_xywh(x, y, across, down) {
            self.0.fill_rect(rect, &plain(colour), Transform::identity(), None);
        }
    }

    pub fn into_image(self) -> Option<DynamicImage> {
        let rgb: Vec<u8> = self.0.pixels().iter().flat_map(|p| [p.red(), p.green(), p.blue()]).collect();
        RgbImage::from_raw(WIDTH, HEIGHT, rgb).map(DynamicImage::from)
    }
}

/// A tuft of orange caps on velvety dark stems, out of a mossy log.
pub fn tuft() -> Option<Scene> {
    let mut scene = Scene::new((58, 44, 30), (120, 128, 110))?;
    scene.stem((-100.0, 900.0), (1700.0, 960.0), 380.0, (92, 70, 48), (60, 44, 30));
    for n in 0..120_u16 {
        scene.ball(scatter(n, 5) * 1600.0, 740.0 + scatter(n, 6) * 90.0, 34.0, 16.0, (86, 110, 52));
    }
    let caps = [
        (560.0, 430.0, 110.0),
        (1010.0, 400.0, 120.0),
        (680.0, 560.0, 95.0),
        (960.0, 580.0, 105.0),
        (800.0, 340.0, 150.0),
        (820.0, 640.0, 80.0),
        (1130.0, 600.0, 60.0),
    ];
    for (x, y, across) in caps {
        scene.stem((x, y), (800.0 + (x - 800.0) * 0.35, 820.0), across * 0.28, (214, 160, 78), (44, 28, 20));
    }
    for (x, y, across) in caps {
        scene.cap(x, y, across, (226, 138, 38));
    }
    Some(scene)
}

/// The underside of one cap: pale gills, a dark stem cut short.
pub fn underside(gills: Rgb) -> Option<Scene> {
    let mut scene = Scene::new((70, 58, 44), (110, 104, 92))?;
    scene.ball(800.0, 600.0, 430.0, 420.0, (214, 140, 60));
    scene.ball(800.0, 600.0, 400.0, 390.0, gills);
    scene.rays(800.0, 600.0, 60.0, 390.0, darker(gills, 0.82), 110);
    scene.ball(800.0, 600.0, 62.0, 60.0, (86, 52, 30));
    Some(scene)
}

/// A print on dark and on white paper, to tell white from cream.
pub fn print(spores: Rgb) -> Option<Scene> {
    let mut scene = Scene::bare((120, 96, 70), (170, 150, 120))?;
    scene.sheet(180.0, 180.0, 620.0, 840.0, (28, 30, 36));
    scene.sheet(800.0, 180.0, 620.0, 840.0, (244, 242, 236));
    scene.rays(800.0, 600.0, 70.0, 360.0, spores, 120);
    for n in 0..900_u16 {
        // Dust that drifted past the gills' edges.
        let (sin, cos) = (scatter(n, 7) * std::f32::consts::TAU).sin_cos();
        let out = 70.0 + scatter(n, 8).sqrt() * 320.0;
        scene.oval_turned(800.0 + cos * out, 600.0 + sin * out, 3.0, 3.0, spores, Transform::identity());
    }
    Some(scene)
}

/// The foot of the tuft, dug out: dark velvety stems that run together, soil on them, a rule beside them.
pub fn base() -> Option<Scene> {
    let mut scene = Scene::new((70, 56, 40), (112, 106, 90))?;
    for (x, lean) in [(560.0, -0.2), (690.0, -0.1), (800.0, 0.0), (920.0, 0.1), (1040.0, 0.2)] {
        scene.stem(
            (x + lean * 300.0, 120.0),
            (800.0 + lean * 380.0, 900.0),
            74.0,
            (196, 140, 66),
            (38, 24, 18),
        );
    }
    for n in 0..70_u16 {
        let (x, y) = (690.0 + scatter(n, 9) * 220.0, 860.0 + scatter(n, 10) * 110.0);
        scene.ball(x, y, 16.0, 11.0, (62, 46, 32));
    }
    scene.sheet(1240.0, 160.0, 120.0, 880.0, (236, 226, 196));
    for n in 0..45_u8 {
        let long = if n % 5 == 0 { 70.0 } else { 36.0 };
        scene.sheet(1240.0, 170.0 + f32::from(n) * 19.5, long, 3.0, (40, 36, 30));
    }
    Some(scene)
}

/// Red cups on a fallen stick.
pub fn cups() -> Option<Scene> {
    let mut scene = Scene::new((52, 48, 34), (126, 128, 104))?;
    scene.stem((120.0, 860.0), (1500.0, 620.0), 90.0, (110, 88, 62), (70, 54, 38));
    for (x, y, across) in
        [(430.0, 720.0, 120.0), (700.0, 640.0, 150.0), (1010.0, 600.0, 110.0), (1240.0, 570.0, 70.0)]
    {
        scene.ball(x, y + across * 0.3, across, across * 0.7, (232, 190, 170));
        scene.ball(x, y, across, across * 0.55, (196, 30, 28));
        scene.ball(x, y + across * 0.08, across * 0.8, across * 0.38, (160, 16, 20));
    }
    Some(scene)
}

/// Brown ears on an upright branch.
pub fn ears() -> Option<Scene> {
    let mut scene = Scene::new((60, 62, 44), (140, 150, 130))?;
    scene.stem((820.0, -60.0), (760.0, 1260.0), 240.0, (120, 108, 88), (92, 80, 62));
    for (x, y, across) in
        [(650.0, 330.0, 130.0), (930.0, 470.0, 150.0), (640.0, 650.0, 160.0), (920.0, 820.0, 110.0)]
    {
        scene.ball(x, y, across, across * 0.85, (140, 84, 62));
        scene.ball(x + across * 0.1, y + across * 0.1, across * 0.72, across * 0.58, (112, 62, 46));
        scene.ball(x + across * 0.16, y + across * 0.16, across * 0.4, across * 0.3, (136, 82, 62));
    }
    Some(scene)
}

fn plain(colour: Rgb) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color_rgba8(colour.0, colour.1, colour.2, 255);
    paint.anti_alias = true;
    paint
}

fn shaded(from: (f32, f32), to: (f32, f32), first: Rgb, last: Rgb) -> Option<Paint<'static>> {
    let stops = vec![GradientStop::new(0.0, rgb(first)), GradientStop::new(1.0, rgb(last))];
    let (from, to) = (Point::from_xy(from.0, from.1), Point::from_xy(to.0, to.1));
    let shader = LinearGradient::new(from, to, stops, SpreadMode::Pad, Transform::identity())?;
    Some(Paint { shader, anti_alias: true, ..Paint::default() })
}

fn glow(lit: (f32, f32), reach: f32, colour: Rgb) -> Option<Paint<'static>> {
    let stops = vec![
        GradientStop::new(0.0, rgb(mixed(colour, (255, 250, 235), 0.35))),
        GradientStop::new(0.45, rgb(colour)),
        GradientStop::new(1.0, rgb(darker(colour, 0.55))),
    ];
    let lit = Point::from_xy(lit.0, lit.1);
    let shader = RadialGradient::new(lit, lit, reach, stops, SpreadMode::Pad, Transform::identity())?;
    Some(Paint { shader, anti_alias: true, ..Paint::default() })
}

fn oval(x: f32, y: f32, across: f32, down: f32) -> Option<Path> {
    PathBuilder::from_oval(Rect::from_xywh(x - across, y - down, across * 2.0, down * 2.0)?)
}

fn rgb(colour: Rgb) -> Color {
    Color::from_rgba8(colour.0, colour.1, colour.2, 255)
}

fn mixed(a: Rgb, b: Rgb, share: f32) -> Rgb {
    let mix = |a: u8, b: u8| {
        let value = f32::from(a) + (f32::from(b) - f32::from(a)) * share;
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between two bytes")]
        let byte = value.clamp(0.0, 255.0) as u8;
        byte
    };
    (mix(a.0, b.0), mix(a.1, b.1), mix(a.2, b.2))
}

fn darker(colour: Rgb, share: f32) -> Rgb {
    mixed((0, 0, 0), colour, share)
}

/// The same disorder every time, from 0 to 1: bits mixed until no row or column is left in them.
fn scatter(n: u16, salt: u16) -> f32 {
    let mut bits = (u32::from(n) << 16 | u32::from(salt)).wrapping_mul(0x9e37_79b1);
    bits = (bits ^ (bits >> 15)).wrapping_mul(0x85eb_ca6b);
    bits = (bits ^ (bits >> 13)).wrapping_mul(0xc2b2_ae35);
    #[allow(clippy::cast_possible_truncation, reason = "half of the bits are enough")]
    let some = (bits >> 16) as u16;
    f32::from(some) / f32::from(u16::MAX)
}
