//! Colour profiles: a standard one is named and written anew, every other is left behind.
//!
//! A profile can hold its maker, a model, a date, texts, and the measures of one screen of one person. But the reds of a picture from
//! a phone are dull without it. So what a profile says is only compared with the standard spaces; what goes into the copy is a profile
//! of our own for that space, the same for everybody.
//!
//! # References
//! ICC.1:2010 (ISO 15076-1), §7 to §10; IEC 61966-2-1 (sRGB); SMPTE EG 432-1 with the curve of sRGB (Display P3); Adobe RGB (1998)
//! Color Image Encoding, 2005. The colorants follow from these by the Bradford adaptation to D50; the test works them out.

/// In which colours a picture is to be shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Colours {
    /// sRGB, or nothing was said, which means the same.
    #[default]
    Srgb,
    /// Display P3, as phones take pictures.
    DisplayP3,
    /// Adobe RGB (1998), as cameras may take them.
    AdobeRgb,
    /// A profile of another space was left behind: colours may look a little different.
    LeftBehind,
}

/// X, Y, Z of red, green and blue, under D50.
type Colorants = [[f64; 3]; 3];

const SRGB: Colorants = [[0.4361, 0.2225, 0.0139], [0.3851, 0.7169, 0.0971], [0.1431, 0.0606, 0.7141]];
const DISPLAY_P3: Colorants = [[0.5151, 0.2412, -0.0011], [0.2920, 0.6922, 0.0419], [0.1571, 0.0666, 0.7841]];
const ADOBE_RGB: Colorants = [[0.6097, 0.3111, 0.0195], [0.2053, 0.6257, 0.0609], [0.1492, 0.0632, 0.7446]];

/// Parameters of sRGB's curve as a profile has them: ((a x + b) ^ g) from d on, c x below (ICC.1 §10.16, type 3).
const SRGB_CURVE: [f64; 5] = [2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045];
/// 563 / 256 (Adobe RGB (1998) §4.3.4.2).
const ADOBE_GAMMA: f64 = 2.199_218_75;

/// How far a standard space's numbers may be off: writers round and adapt differently.
const COLORANT_TOLERANCE: f64 = 0.003;
const CURVE_TOLERANCE: f64 = 0.01;

impl Colours {
    /// Tells the space of a profile; no profile is sRGB.
    pub(super) fn of(profile: &[u8]) -> Self {
        if profile.is_empty() {
            return Self::Srgb;
        }
        let known = [
            (Self::Srgb, SRGB, halfway(SRGB_CURVE)),
            (Self::DisplayP3, DISPLAY_P3, halfway(SRGB_CURVE)),
            (Self::AdobeRgb, ADOBE_RGB, 0.5_f64.powf(ADOBE_GAMMA)),
        ];
        let Some((colorants, middles)) = read(profile) else { return Self::LeftBehind };
        let near = |a: f64, b: f64, tolerance: f64| (a - b).abs() <= tolerance;
        let is = |(_, wanted, middle): &&(Self, Colorants, f64)| {
            let all = wanted.as_flattened().iter().zip(colorants.as_flattened());
            all.into_iter().all(|(a, b)| near(*a, *b, COLORANT_TOLERANCE))
                && middles.iter().all(|found| near(*found, *middle, CURVE_TOLERANCE))
        };
        known.iter().find(is).map_or(Self::LeftBehind, |(colours, ..)| *colours)
    }

    /// The standard's name.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Srgb | Self::LeftBehind => "sRGB",
            Self::DisplayP3 => "Display P3",
            Self::AdobeRgb => "Adobe RGB (1998)",
        }
    }

    /// Our own profile of the space; none for sRGB, which every reader takes a picture for.
    pub(super) fn profile(self) -> Option<Vec<u8>> {
        match self {
            Self::Srgb | Self::LeftBehind => None,
            Self::DisplayP3 => Some(written(self.name(), &DISPLAY_P3, &SRGB_CURVE)),
            Self::AdobeRgb => Some(written(self.name(), &ADOBE_RGB, &[ADOBE_GAMMA])),
        }
    }
}

/// What a curve with parameters of type 3 makes of one half.
fn halfway([power, by, plus, below, from]: [f64; 5]) -> f64 {
    if from <= 0.5 { (by * 0.5 + plus).powf(power) } else { below * 0.5 }
}

/// The colorants of a profile of three curves and a matrix, and what each curve makes of one half.
fn read(profile: &[u8]) -> Option<(Colorants, [f64; 3])> {
    if profile.get(16..24)? != b"RGB XYZ " {
        return None;
    }
    let count = number(profile.get(128..132)?)?;
    let tags = || profile.get(132..).unwrap_or_default().chunks_exact(12).take(count);
    if tags().any(|tag| tag.starts_with(b"A2B0")) {
        return None;
    }
    let value = |name: &[u8; 4]| {
        let tag = tags().find(|tag| tag.starts_with(name))?;
        let (at, length) = (number(tag.get(4..8)?)?, number(tag.get(8..12)?)?);
        profile.get(at..at.checked_add(length)?)
    };
    let colorant = |name| {
        let mut numbers = fixed(value(name)?.strip_prefix(b"XYZ \0\0\0\0")?);
        Some([numbers.next()?, numbers.next()?, numbers.next()?])
    };
    Some((
        [colorant(b"rXYZ")?, colorant(b"gXYZ")?, colorant(b"bXYZ")?],
        [middle(value(b"rTRC")?)?, middle(value(b"gTRC")?)?, middle(value(b"bTRC")?)?],
    ))
}

/// What a curve makes of one half.
fn middle(curve: &[u8]) -> Option<f64> {
    if let Some(table) = curve.strip_prefix(b"curv\0\0\0\0") {
        let entry = |at: usize| {
            let bytes = table.get(4 + 2 * at..6 + 2 * at)?;
            Some(f64::from(u16::from_be_bytes(bytes.try_into().ok()?)))
        };
        return match number(table.get(..4)?)? {
            0 => Some(0.5),
            1 => Some(0.5_f64.powf(entry(0)? / 256.0)),
            count => Some(entry((count - 1) / 2)?.midpoint(entry(count / 2)?) / 65535.0),
        };
    }
    let parameters = curve.strip_prefix(b"para\0\0\0\0\0")?;
    let mut numbers = fixed(parameters.get(3..)?);
    let mut next = || numbers.next();
    match parameters.first()? {
        0 => Some(0.5_f64.powf(next()?)),
        3 => Some(halfway([next()?, next()?, next()?, next()?, next()?])),
        // No standard space is written with the others.
        _ => None,
    }
}

fn number(bytes: &[u8]) -> Option<usize> {
    usize::try_from(u32::from_be_bytes(bytes.try_into().ok()?)).ok()
}

/// Numbers with 16 binary places (s15Fixed16Number).
fn fixed(bytes: &[u8]) -> impl Iterator<Item = f64> {
    bytes
        .chunks_exact(4)
        .filter_map(|four| Some(f64::from(i32::from_be_bytes(four.try_into().ok()?)) / 65536.0))
}

/// A profile of version 4 with what such a one must have (ICC.1 §8.3.3) and nothing more.
fn written(name: &str, colorants: &Colorants, curve: &[f64]) -> Vec<u8> {
    let fixed = |value: &f64| {
        #[allow(clippy::cast_possible_truncation, reason = "numbers of a profile are below 3")]
        let fixed = (value * 65536.0).round() as i32;
        fixed.to_be_bytes()
    };
    let all = |kind: &[u8], numbers: &[f64]| {
        [kind, numbers.iter().map(fixed).collect::<Vec<_>>().as_flattened()].concat()
    };
    let text = |text: &str| {
        let units: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
        let length = u32::try_from(units.len()).unwrap_or_default().to_be_bytes();
        // One record of 12 bytes, in English, whose text stands at 28.
        [b"mluc\0\0\0\0\0\0\0\x01\0\0\0\x0cenUS".as_slice(), &length, &28_u32.to_be_bytes(), &units].concat()
    };
    let parametric: &[u8] =
        if curve.len() == 1 { b"para\0\0\0\0\0\0\0\0" } else { b"para\0\0\0\0\0\x03\0\0" };
    let xyz = b"XYZ \0\0\0\0";
    let [red, green, blue] = colorants;
    // From D65 to D50 (Bradford).
    let adaptation =
        [1.047_88, 0.022_92, -0.050_22, 0.029_59, 0.990_48, -0.017_08, -0.009_25, 0.015_08, 0.751_68];
    let tags: [(&[u8; 4], Vec<u8>); 10] = [
        (b"desc", text(name)),
        (b"cprt", text("none")),
        (b"wtpt", all(xyz, &D50)),
        (b"chad", all(b"sf32\0\0\0\0", &adaptation)),
        (b"rXYZ", all(xyz, red)),
        (b"gXYZ", all(xyz, green)),
        (b"bXYZ", all(xyz, blue)),
        (b"rTRC", all(parametric, curve)),
        (b"gTRC", all(parametric, curve)),
        (b"bTRC", all(parametric, curve)),
    ];
    let mut index = Vec::new();
    let mut values: Vec<u8> = Vec::new();
    let be = |length: usize| u32::try_from(length).unwrap_or_default().to_be_bytes();
    for (tag, value) in &tags {
        index.extend([&tag[..], &be(132 + 12 * tags.len() + values.len()), &be(value.len())].concat());
        values.extend(value);
        values.resize(values.len().next_multiple_of(4), 0);
    }
    let size = 132 + index.len() + values.len();
    let date = [2000_u16, 1, 1, 0, 0, 0].map(u16::to_be_bytes);
    let illuminant = all(&[], &D50);
    let header: [&[u8]; 8] = [
        &be(size),
        b"\0\0\0\0\x04\x20\0\0mntrRGB XYZ ",
        date.as_flattened(),
        b"acsp",
        // Platform, flags, maker, model, attributes, rendering intent: none.
        &[0; 28],
        &illuminant,
        // Creator, identity, reserved.
        &[0; 48],
        &be(tags.len()),
    ];
    [header.concat(), index, values].concat()
}

/// The white of profiles.
const D50: [f64; 3] = [0.9642, 1.0, 0.8249];

#[cfg(test)]
mod tests {
    use super::*;

    type Matrix = [[f64; 3]; 3];

    fn times(a: &Matrix, v: [f64; 3]) -> [f64; 3] {
        a.map(|row| row.iter().zip(v).map(|(x, y)| x * y).sum())
    }

    /// By cofactors.
    fn inverse(m: &Matrix) -> Matrix {
        let cofactor = |row: usize, column: usize| {
            let part = |down: usize, across: usize| m[(row + down) % 3][(column + across) % 3];
            part(1, 1) * part(2, 2) - part(1, 2) * part(2, 1)
        };
        let determinant: f64 = (0..3).map(|column| m[0][column] * cofactor(0, column)).sum();
        std::array::from_fn(|row| std::array::from_fn(|column| cofactor(column, row) / determinant))
    }

    /// The primaries' chromaticities as published, made colorants by the Bradford adaptation (ICC.1:2010 annex E).
    #[test]
    fn colorants_follow_from_the_published_primaries() {
        let xyz = |x: f64, y: f64| [x / y, 1.0, (1.0 - x - y) / y];
        let bradford = [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]];
        let white = xyz(0.3127, 0.3290);
        for (found, primaries) in [
            (SRGB, [(0.64, 0.33), (0.30, 0.60), (0.15, 0.06)]),
            (DISPLAY_P3, [(0.680, 0.320), (0.265, 0.690), (0.150, 0.060)]),
            (ADOBE_RGB, [(0.64, 0.33), (0.21, 0.71), (0.15, 0.06)]),
        ] {
            let columns = primaries.map(|(x, y)| xyz(x, y));
            let matrix: Matrix = std::array::from_fn(|r| columns.map(|column| column[r]));
            let scale = times(&inverse(&matrix), white);
            let (from, to) = (times(&bradford, white), times(&bradford, D50));
            for (at, (column, found)) in columns.iter().zip(found).enumerate() {
                let cone = times(&bradford, column.map(|part| part * scale[at]));
                let adapted: [f64; 3] = std::array::from_fn(|at| cone[at] * to[at] / from[at]);
                for (wanted, found) in times(&inverse(&bradford), adapted).iter().zip(found) {
                    assert!((wanted - found).abs() < 0.0002, "{wanted} and {found}");
                }
            }
        }
    }

    #[test]
    fn what_we_write_is_told_again_and_nonsense_is_left_behind() {
        for colours in [Colours::DisplayP3, Colours::AdobeRgb] {
            let profile = colours.profile().unwrap();
            assert_eq!(Colours::of(&profile), colours);
            for end in 1..profile.len() - 4 {
                assert_eq!(Colours::of(&profile[..end]), Colours::LeftBehind, "{end}");
            }
        }
        assert_eq!(Colours::of(&[]), Colours::Srgb);
        assert_eq!(Colours::of(&[0xff; 4000]), Colours::LeftBehind);
        // Of a screen's own colours.
        let odd = [[0.45, 0.23, 0.02], [0.36, 0.70, 0.09], [0.15, 0.07, 0.71]];
        assert_eq!(Colours::of(&written("screen", &odd, &SRGB_CURVE)), Colours::LeftBehind);
    }
}
