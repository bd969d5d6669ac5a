//! The one field of an EXIF block that is kept.

use image::metadata::Orientation;

/// How a picture must be turned to stand upright, as an EXIF block (a TIFF header and one field)
/// says it.
pub(super) fn orientation(tiff: &[u8]) -> Orientation {
    // Some programs put the mark of the JPEG form before the block of other formats.
    let tiff = tiff.strip_prefix(b"Exif\0\0").unwrap_or(tiff);
    Orientation::from_exif_chunk(tiff).unwrap_or(Orientation::NoTransforms)
}

/// A block with that field alone; `None` for a picture that stands upright as it is.
///
/// TIFF 6.0, section 2: header, then one directory with a count, entries of twelve bytes, and the
/// place of the next directory. Tag 0x0112 is Orientation, type 3 a short.
pub(super) fn block(orientation: Orientation) -> Option<[u8; 26]> {
    if orientation == Orientation::NoTransforms {
        return None;
    }
    let mut block = *b"II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0?\0\0\0\0\0\0\0";
    block[18] = orientation.to_exif();
    Some(block)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_reads_back() {
        for turned in (2..=8).filter_map(Orientation::from_exif) {
            let block = block(turned).expect("not upright");
            assert_eq!(orientation(&block), turned);
            assert_eq!(orientation(&[b"Exif\0\0", &block[..]].concat()), turned);
        }
        assert_eq!(block(Orientation::NoTransforms), None);
        assert_eq!(orientation(b"nonsense"), Orientation::NoTransforms);
    }
}
