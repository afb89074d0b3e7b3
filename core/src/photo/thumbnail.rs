//! A small upright picture of a photograph, decoded within bounds.
//!
//! A JPEG is decoded at an eighth, a quarter or half of its size, straight from its frequencies: a picture of 12
//! megapixels then needs 3 MB, not 36. Nothing of the file's EXIF reaches the thumbnail, its position least of all.

use std::fs::File;
use std::io::{self, BufReader, Read, Seek, SeekFrom, Write};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::time::{Duration, Instant};

use image::codecs::jpeg::JpegEncoder;
use image::imageops::FilterType;
use image::{DynamicImage, ImageDecoder, ImageEncoder, ImageFormat, ImageReader, Limits, Rgb, RgbImage};
use jpeg_decoder::{CodingProcess, Decoder as JpegDecoder, PixelFormat};

use super::{Format, NoThumbnail, Orientation};

/// The long side of a thumbnail, in pixels. Smaller pictures are not enlarged.
pub const LONG_SIDE: u16 = 512;
/// JPEG quality of a thumbnail.
const QUALITY: u8 = 80;
/// How many bytes a picture may need while it is decoded.
const MOST_DECODED: u64 = 160 << 20;
/// How many pixels a picture may have at all: more than any phone's sensor.
const MOST_PIXELS: u64 = 250_000_000;
/// How large a colour profile may be and still be carried over.
const MOST_PROFILE: usize = 16 * 1024;
/// How long reading a picture may take; a hostile one could take for ever.
const PATIENCE: Duration = Duration::from_secs(15);
/// How much is read between looks at the clock: a few tens of scans of a JPEG made to be slow.
const GLANCE: usize = 1024;

/// What was seen of a picture.
pub(super) struct Look {
    /// Width and height as stored, where the picture's header tells.
    pub(super) size: Option<(u32, u32)>,
    /// The picture made small, not yet upright.
    pub(super) small: Result<Small, NoThumbnail>,
}

/// A picture made small, and the colour profile its numbers are in.
pub(super) struct Small {
    picture: RgbImage,
    profile: Option<Vec<u8>>,
}

impl Look {
    /// Decodes a picture. Never panics, whatever the bytes.
    pub(super) fn at(file: File, format: Format) -> Self {
        let mut size = None;
        // Decoders are well tested, but the bytes are anyone's: a panic in one must not cost the photo.
        let small = catch_unwind(AssertUnwindSafe(|| decode(file, format, &mut size)));
        Self { size, small: small.unwrap_or(Err(NoThumbnail::Unreadable)) }
    }
}

impl Small {
    /// Turns it upright and writes it as a JPEG.
    pub(super) fn write(self, orientation: Orientation, file: impl Write) -> Result<(), NoThumbnail> {
        let mut picture = DynamicImage::ImageRgb8(self.picture);
        if let Some(turn) = image::metadata::Orientation::from_exif(orientation.number()) {
            picture.apply_orientation(turn);
        }
        let mut encoder = JpegEncoder::new_with_quality(file, QUALITY);
        if let Some(profile) = self.profile {
            encoder.set_icc_profile(profile).map_err(|_| NoThumbnail::Unreadable)?;
        }
        picture.write_with_encoder(encoder).map_err(|_| NoThumbnail::NotWritten)
    }
}

fn decode(file: File, format: Format, size: &mut Option<(u32, u32)>) -> Result<Small, NoThumbnail> {
    let reader = BufReader::with_capacity(GLANCE, Patient { file, until: Instant::now() + PATIENCE });
    let (picture, profile) = match format {
        Format::Heic => return Err(NoThumbnail::Heic),
        Format::Jpeg => decode_jpeg(reader, size)?,
        Format::Png => decode_whole(reader, ImageFormat::Png, size)?,
        Format::WebP => decode_whole(reader, ImageFormat::WebP, size)?,
    };
    let size = fit(size.unwrap_or((picture.width(), picture.height())));
    Ok(Small {
        picture: shrink(picture, size),
        profile: profile.filter(|profile| profile.len() <= MOST_PROFILE),
    })
}

type Decoded = (DynamicImage, Option<Vec<u8>>);

fn decode_jpeg(reader: impl Read, size: &mut Option<(u32, u32)>) -> Result<Decoded, NoThumbnail> {
    let mut decoder = JpegDecoder::new(reader);
    decoder.read_info().map_err(jpeg_failure)?;
    let info = decoder.info().ok_or(NoThumbnail::Unreadable)?;
    *size = Some((info.width.into(), info.height.into()));
    let pixels = u64::from(info.width) * u64::from(info.height);
    // A progressive picture's frequencies, two bytes a sample, are all held until its last scan.
    let held = match info.coding_process {
        CodingProcess::DctSequential => 0,
        _ => pixels * 2 * u64::try_from(info.pixel_format.pixel_bytes()).unwrap_or(u64::MAX),
    };
    if pixels > MOST_PIXELS || held > MOST_DECODED {
        return Err(NoThumbnail::TooManyPixels);
    }
    decoder.set_max_decoding_buffer_size(usize::try_from(MOST_DECODED).unwrap_or(usize::MAX));
    let (width, height) = decoder.scale(LONG_SIDE, LONG_SIDE).map_err(jpeg_failure)?;
    let samples = decoder.decode().map_err(jpeg_failure)?;
    let (width, height) = (width.into(), height.into());
    let picture = match info.pixel_format {
        PixelFormat::RGB24 => RgbImage::from_raw(width, height, samples).map(DynamicImage::ImageRgb8),
        PixelFormat::L8 => image::GrayImage::from_raw(width, height, samples).map(DynamicImage::ImageLuma8),
        PixelFormat::CMYK32 => {
            RgbImage::from_raw(width, height, inks_to_light(&samples)).map(DynamicImage::ImageRgb8)
        }
        PixelFormat::L16 => None,
    };
    // A profile for inks or for greys means nothing beside RGB.
    let profile = if info.pixel_format == PixelFormat::RGB24 { decoder.icc_profile() } else { None };
    Ok((picture.ok_or(NoThumbnail::Unreadable)?, profile))
}

fn decode_whole(
    reader: BufReader<Patient>,
    format: ImageFormat,
    size: &mut Option<(u32, u32)>,
) -> Result<Decoded, NoThumbnail> {
    let mut reader = ImageReader::with_format(reader, format);
    let mut limits = Limits::no_limits();
    limits.max_alloc = Some(MOST_DECODED);
    reader.limits(limits);
    let mut decoder = reader.into_decoder().map_err(|error| image_failure(&error))?;
    *size = Some(decoder.dimensions());
    if decoder.total_bytes() > MOST_DECODED {
        return Err(NoThumbnail::TooManyPixels);
    }
    let coloured = decoder.color_type().has_color();
    let profile = decoder.icc_profile().ok().flatten().filter(|_| coloured);
    let picture = DynamicImage::from_decoder(decoder).map_err(|error| image_failure(&error))?;
    Ok((picture, profile))
}

/// Makes a picture small: roughly first where it is far too large, then finely; on white where it is transparent.
fn shrink(picture: DynamicImage, (width, height): (u32, u32)) -> RgbImage {
    let far_too_large = picture.width() > 4 * width || picture.height() > 4 * height;
    let picture = if far_too_large { picture.thumbnail_exact(2 * width, 2 * height) } else { picture };
    let ready = (picture.width(), picture.height()) == (width, height);
    let picture = if ready { picture } else { picture.resize_exact(width, height, FilterType::Triangle) };
    if !picture.color().has_alpha() {
        return picture.into_rgb8();
    }
    let picture = picture.into_rgba8();
    RgbImage::from_fn(picture.width(), picture.height(), |x, y| {
        let [red, green, blue, alpha] = picture.get_pixel(x, y).0;
        Rgb([red, green, blue].map(|light| blend(light, 255, alpha)))
    })
}

/// The size of a thumbnail of a picture of this size.
fn fit((width, height): (u32, u32)) -> (u32, u32) {
    let long = u64::from(width.max(height));
    let side = long.min(LONG_SIDE.into());
    let scaled =
        |length: u32| u32::try_from((u64::from(length) * side + long / 2) / long.max(1)).unwrap_or(1).max(1);
    (scaled(width), scaled(height))
}

/// `over` at this opacity upon `under`, all from 0 to 255.
fn blend(over: u8, under: u8, opacity: u8) -> u8 {
    let [over, under, opacity] = [over, under, opacity].map(u16::from);
    u8::try_from((over * opacity + under * (255 - opacity) + 127) / 255).unwrap_or(u8::MAX)
}

/// Cyan, magenta, yellow and black, each from no ink (0) to full ink (255), as red, green and blue.
fn inks_to_light(samples: &[u8]) -> Vec<u8> {
    samples
        .chunks_exact(4)
        .flat_map(|pixel| {
            let (inks, black) = pixel.split_at(3);
            let black = black.first().copied().unwrap_or(0);
            [0, 1, 2].map(|ink| blend(0, 255 - inks.get(ink).copied().unwrap_or(0), black))
        })
        .collect()
}

fn jpeg_failure(error: jpeg_decoder::Error) -> NoThumbnail {
    match error {
        jpeg_decoder::Error::Io(error) if error.kind() == io::ErrorKind::TimedOut => NoThumbnail::TooSlow,
        _ => NoThumbnail::Unreadable,
    }
}

fn image_failure(error: &image::ImageError) -> NoThumbnail {
    match error {
        image::ImageError::Limits(_) => NoThumbnail::TooManyPixels,
        image::ImageError::IoError(error) if error.kind() == io::ErrorKind::TimedOut => NoThumbnail::TooSlow,
        _ => NoThumbnail::Unreadable,
    }
}

/// A file that stops giving once the time is up.
struct Patient {
    file: File,
    until: Instant,
}

impl Read for Patient {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if Instant::now() > self.until { Err(io::ErrorKind::TimedOut.into()) } else { self.file.read(buffer) }
    }
}

impl Seek for Patient {
    fn seek(&mut self, to: SeekFrom) -> io::Result<u64> {
        self.file.seek(to)
    }
}
