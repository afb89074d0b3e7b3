//! The transverse Mercator projection, which every grid here is drawn on.

use std::sync::LazyLock;

/// An ellipsoid of revolution, by its half axes in metres.
#[derive(Clone, Copy)]
pub(super) struct Ellipsoid {
    pub(super) equatorial: f64,
    pub(super) polar: f64,
}

/// The ellipsoid of ETRS89; WGS84's differs by 0.1 mm in the polar half axis.
pub(super) const GRS80: Ellipsoid = Ellipsoid { equatorial: 6_378_137.0, polar: 6_356_752.314_1 };
/// The ellipsoid of OSGB36.
pub(super) const AIRY: Ellipsoid = Ellipsoid { equatorial: 6_377_563.396, polar: 6_356_256.909 };
/// The ellipsoid of the Irish Grid.
pub(super) const MODIFIED_AIRY: Ellipsoid = Ellipsoid { equatorial: 6_377_340.189, polar: 6_356_034.447 };

impl Ellipsoid {
    /// The square of the first eccentricity.
    pub(super) fn e2(self) -> f64 {
        1.0 - (self.polar / self.equatorial).powi(2)
    }
}

/// The National Grid's projection of ETRS89, which OSTN15 shifts.
pub(super) static BRITISH_ON_GRS80: LazyLock<TransverseMercator> =
    LazyLock::new(|| TransverseMercator::new(GRS80, 0.999_601_271_7, (49.0, -2.0), (400_000.0, -100_000.0)));
/// The National Grid's projection of OSGB36 itself.
pub(super) static BRITISH_ON_AIRY: LazyLock<TransverseMercator> =
    LazyLock::new(|| TransverseMercator::new(AIRY, 0.999_601_271_7, (49.0, -2.0), (400_000.0, -100_000.0)));
/// The Irish Grid.
pub(super) static IRISH: LazyLock<TransverseMercator> =
    LazyLock::new(|| TransverseMercator::new(MODIFIED_AIRY, 1.000_035, (53.5, -8.0), (200_000.0, 250_000.0)));

/// A projection, by Krüger's series in the third flattening to the fourth order: right to a tenth of a micrometre
/// within 30 degrees of the central meridian, where the series that the national surveys print drift by millimetres.
///
/// # References
/// C. F. F. Karney, "Transverse Mercator with an accuracy of a few nanometers", Journal of Geodesy 85 (2011), 475-485,
/// equations 7 to 21, 35 and 36.
pub(super) struct TransverseMercator {
    e2: f64,
    /// Scale on the central meridian times the radius of the rectifying sphere, in metres.
    radius: f64,
    meridian: f64,
    false_easting: f64,
    /// The false northing, less the distance from the equator to the true origin.
    equator_northing: f64,
    forward: [f64; 4],
    inverse: [f64; 4],
}

impl TransverseMercator {
    /// # Units
    /// `origin` (the true one) is latitude and longitude in degrees, `false_origin` easting and northing in metres.
    fn new(ellipsoid: Ellipsoid, scale: f64, origin: (f64, f64), false_origin: (f64, f64)) -> Self {
        let Ellipsoid { equatorial: a, polar: b } = ellipsoid;
        let n = (a - b) / (a + b);
        let mut projection = Self {
            e2: ellipsoid.e2(),
            radius: scale * a / (1.0 + n) * (1.0 + n.powi(2) / 4.0 + n.powi(4) / 64.0),
            meridian: origin.1,
            false_easting: false_origin.0,
            equator_northing: 0.0,
            forward: [
                n / 2.0 - n.powi(2) * 2.0 / 3.0 + n.powi(3) * 5.0 / 16.0 + n.powi(4) * 41.0 / 180.0,
                n.powi(2) * 13.0 / 48.0 - n.powi(3) * 3.0 / 5.0 + n.powi(4) * 557.0 / 1440.0,
                n.powi(3) * 61.0 / 240.0 - n.powi(4) * 103.0 / 140.0,
                n.powi(4) * 49_561.0 / 161_280.0,
            ],
            inverse: [
                n / 2.0 - n.powi(2) * 2.0 / 3.0 + n.powi(3) * 37.0 / 96.0 - n.powi(4) / 360.0,
                n.powi(2) / 48.0 + n.powi(3) / 15.0 - n.powi(4) * 437.0 / 1440.0,
                n.powi(3) * 17.0 / 480.0 - n.powi(4) * 37.0 / 840.0,
                n.powi(4) * 4_397.0 / 161_280.0,
            ],
        };
        projection.equator_northing = false_origin.1 - projection.forward(origin.0, origin.1).1;
        projection
    }

    /// Latitude and longitude in degrees to easting and northing in metres.
    pub(super) fn forward(&self, latitude: f64, longitude: f64) -> (f64, f64) {
        let (sin, cos) = (longitude - self.meridian).to_radians().sin_cos();
        let tan = self.conformal(latitude.to_radians().tan());
        let (xi, eta) = (tan.atan2(cos), (sin / tan.hypot(cos)).asinh());
        let (north, east) = sine_series(&self.forward, xi, eta);
        (self.false_easting + self.radius * (eta + east), self.equator_northing + self.radius * (xi + north))
    }

    /// Easting and northing in metres to latitude and longitude in degrees.
    pub(super) fn inverse(&self, easting: f64, northing: f64) -> (f64, f64) {
        let (xi, eta) =
            ((northing - self.equator_northing) / self.radius, (easting - self.false_easting) / self.radius);
        let (north, east) = sine_series(&self.inverse, xi, eta);
        let (xi, eta) = (xi - north, eta - east);
        let (sin, cos) = xi.sin_cos();
        let sinh = eta.sinh();
        let tan = self.geographic(sin / sinh.hypot(cos));
        (tan.atan().to_degrees(), self.meridian + sinh.atan2(cos).to_degrees())
    }

    /// The tangent of the conformal latitude from that of the geographic one.
    fn conformal(&self, tan: f64) -> f64 {
        let e = self.e2.sqrt();
        let secant = tan.hypot(1.0);
        let sigma = (e * (e * tan / secant).atanh()).sinh();
        tan * sigma.hypot(1.0) - sigma * secant
    }

    /// The tangent of the geographic latitude from that of the conformal one, by Newton's method.
    fn geographic(&self, conformal: f64) -> f64 {
        let rest = 1.0 - self.e2;
        let mut tan = conformal / rest;
        for _ in 0..6 {
            let guess = self.conformal(tan);
            let step =
                (conformal - guess) / guess.hypot(1.0) * (1.0 + rest * tan * tan) / (rest * tan.hypot(1.0));
            tan += step;
            if step.abs() < 1e-13 * tan.abs().max(1.0) {
                break;
            }
        }
        tan
    }
}

/// The real and imaginary part of the sum of c sin(2 j (xi + i eta)), j counting the coefficients from one: Clenshaw's
/// summation, in complex numbers.
fn sine_series(coefficients: &[f64; 4], xi: f64, eta: f64) -> (f64, f64) {
    let (sin, cos) = (2.0 * xi).sin_cos();
    let (sinh, cosh) = ((2.0 * eta).sinh(), (2.0 * eta).cosh());
    let (twice_re, twice_im) = (2.0 * cos * cosh, -2.0 * sin * sinh);
    let (mut now, mut before) = ((0.0, 0.0), (0.0, 0.0));
    for c in coefficients.iter().rev() {
        let next = (
            twice_re * now.0 - twice_im * now.1 - before.0 + c,
            twice_re * now.1 + twice_im * now.0 - before.1,
        );
        (now, before) = (next, now);
    }
    let (re, im) = (sin * cosh, cos * sinh);
    (re * now.0 - im * now.1, re * now.1 + im * now.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Degrees from degrees, minutes and seconds.
    fn dms(degrees: f64, minutes: f64, seconds: f64) -> f64 {
        degrees + minutes / 60.0 + seconds / 3600.0
    }

    fn near(found: (f64, f64), expected: (f64, f64), tolerance: f64) {
        let worst = (found.0 - expected.0).abs().max((found.1 - expected.1).abs());
        assert!(worst <= tolerance, "{found:?} for {expected:?}");
    }

    /// Ordnance Survey, "Transformations and OSGM15 user guide" v1.3 (2020), annexe B: Caister water tower on Airy 1830,
    /// printed to a millimetre; annexe C takes it back.
    #[test]
    fn the_ordnance_survey_worked_example_on_airy() {
        let (latitude, longitude) = (dms(52.0, 39.0, 27.2531), dms(1.0, 43.0, 4.5177));
        near(BRITISH_ON_AIRY.forward(latitude, longitude), (651_409.903, 313_177.270), 0.001);
        // The seconds are printed to four places: half of the last is 1.5 mm.
        near(BRITISH_ON_AIRY.inverse(651_409.903, 313_177.270), (latitude, longitude), 0.000_05 / 3600.0);
    }

    /// The same guide, annexe A: the tower in ETRS89, before any shift.
    #[test]
    fn the_ordnance_survey_worked_example_on_grs80() {
        let (latitude, longitude) = (dms(52.0, 39.0, 28.8282), dms(1.0, 42.0, 57.8663));
        near(BRITISH_ON_GRS80.forward(latitude, longitude), (651_307.003_0, 313_255.685_9), 0.001_5);
    }

    /// True origins and false origins as the two surveys publish them.
    #[test]
    fn true_origins_lie_on_false_ones() {
        near(BRITISH_ON_AIRY.forward(49.0, -2.0), (400_000.0, -100_000.0), 1e-6);
        near(IRISH.forward(53.5, -8.0), (200_000.0, 250_000.0), 1e-6);
    }

    #[test]
    fn inverse_undoes_forward_to_a_micrometre() {
        for projection in [&BRITISH_ON_GRS80, &BRITISH_ON_AIRY, &IRISH] {
            for latitude in 48..=63 {
                for longitude in -14..=4 {
                    let degrees = (f64::from(latitude), f64::from(longitude));
                    let grid = projection.forward(degrees.0, degrees.1);
                    near(projection.inverse(grid.0, grid.1), degrees, 1e-11);
                }
            }
        }
    }
}
