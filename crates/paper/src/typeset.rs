//! Setting a template with its data: everything in memory, nothing from disk, network or clock.

use std::collections::HashMap;
use std::sync::LazyLock;

use rayon::prelude::*;
use serde::Serialize;
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::model::Document;
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, Timestamp};

use crate::PaperError;
use crate::model::Day;

/// Templates by the path under which they import each other.
const TEMPLATES: &[(&str, &str)] = &[
    ("/house.typ", include_str!("../templates/house.typ")),
    ("/parts.typ", include_str!("../templates/parts.typ")),
    ("/card.typ", include_str!("../templates/card.typ")),
    ("/care.typ", include_str!("../templates/care.typ")),
    (
        "/certificate.typ",
        include_str!("../templates/certificate.typ"),
    ),
    ("/claim.typ", include_str!("../templates/claim.typ")),
    (
        "/gauge-failure.typ",
        include_str!("../templates/gauge-failure.typ"),
    ),
    ("/note.typ", include_str!("../templates/note.typ")),
    ("/label.typ", include_str!("../templates/label.typ")),
    ("/photos.typ", include_str!("../templates/photos.typ")),
    ("/quote.typ", include_str!("../templates/quote.typ")),
    ("/report.typ", include_str!("../templates/report.typ")),
    ("/suspect.typ", include_str!("../templates/suspect.typ")),
    (
        "/validation.typ",
        include_str!("../templates/validation.typ"),
    ),
];

/// Regular, semi-bold, bold.
pub(crate) const FONTS: [&[u8]; 3] = [
    include_bytes!("../fonts/Inter-Regular.otf"),
    include_bytes!("../fonts/Inter-SemiBold.otf"),
    include_bytes!("../fonts/Inter-Bold.otf"),
];

/// Documents after which an unused result of the typesetter's cache is dropped. None is kept: what one
/// document leaves is of little use to the next, and holds some 5 MB as long as the program runs.
const CACHE_AGE: usize = 0;

/// Documents of one file that are set side by side before the cache is swept.
const AT_ONCE: usize = 32;

/// Everything that is the same for each document.
struct House {
    library: LazyHash<Library>,
    book: LazyHash<FontBook>,
    fonts: Vec<Font>,
    sources: HashMap<FileId, Source>,
}

static HOUSE: LazyLock<House> = LazyLock::new(|| {
    let fonts: Vec<Font> = FONTS
        .iter()
        .flat_map(|data| Font::iter(Bytes::new(*data)))
        .collect();
    let sources = TEMPLATES
        .iter()
        .filter_map(|(path, text)| {
            let id = file_id(path)?;
            Some((id, Source::new(id, (*text).to_owned())))
        })
        .collect();
    House {
        library: LazyHash::new(Library::default()),
        book: LazyHash::new(FontBook::from_fonts(&fonts)),
        fonts,
        sources,
    }
});

fn file_id(path: &str) -> Option<FileId> {
    let path = VirtualPath::new(path).ok()?;
    Some(RootedPath::new(VirtualRoot::Project, path).intern())
}

/// One document in the making.
struct Desk {
    main: FileId,
    data_id: FileId,
    data: Bytes,
    pictures: Vec<(FileId, Bytes)>,
    today: Option<Datetime>,
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &HOUSE.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &HOUSE.book
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        HOUSE.sources.get(&id).cloned().ok_or_else(|| absent(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if id == self.data_id {
            return Ok(self.data.clone());
        }
        let picture = self.pictures.iter().find(|(of, _)| *of == id);
        picture
            .map(|(_, bytes)| bytes.clone())
            .ok_or_else(|| absent(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        HOUSE.fonts.get(index).cloned()
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        self.today
    }
}

fn absent(id: FileId) -> FileError {
    FileError::NotFound(id.get().vpath().get_with_slash().into())
}

/// The PDF of `template` with `data`. `ident` names the document for ever; the same input gives the
/// same bytes.
pub(crate) fn pdf(
    template: &str,
    data: &impl Serialize,
    ident: &str,
    day: Day,
) -> Result<Vec<u8>, PaperError> {
    pdf_with(template, data, &[], ident, day)
}

/// The same with pictures: the path under which the template asks for each, and its bytes.
pub(crate) fn pdf_with(
    template: &str,
    data: &impl Serialize,
    pictures: &[(String, &[u8])],
    ident: &str,
    day: Day,
) -> Result<Vec<u8>, PaperError> {
    let bytes = set(template, data, pictures, day).and_then(|document| {
        let options = options(ident, day);
        printed(&document, &options)
    });
    // Nobody waits for the sweeping.
    rayon::spawn(|| comemo::evict(CACHE_AGE));
    bytes
}

/// One PDF of many documents, each set by itself: its pages count from 1, and the time grows with
/// their number only. `data` makes what a document says from what it is about.
pub(crate) fn pdf_of_many<'a, T: Sync, D: Serialize>(
    template: &str,
    documents: &'a [T],
    data: impl Fn(&'a T) -> (D, Day) + Sync,
    title: &str,
    ident: &str,
    day: Day,
) -> Result<Vec<u8>, PaperError> {
    let mut pages = Vec::new();
    let mut about = None;
    for some in documents.chunks(AT_ONCE) {
        let set: Result<Vec<PagedDocument>, PaperError> = some
            .par_iter()
            .map(|document| {
                let (data, day) = data(document);
                set(template, &data, &[], day)
            })
            .collect();
        for document in set? {
            pages.extend_from_slice(document.pages());
            about.get_or_insert_with(|| document.info().clone());
        }
        comemo::evict(CACHE_AGE);
    }
    let mut about = about.ok_or(PaperError::Nothing)?;
    about.title = Some(title.into());
    let document = PagedDocument::new(pages.into_iter().collect(), about);
    let options = PdfOptions {
        // Tags find their places by names that are the same in each of the documents.
        tagged: false,
        ..options(ident, day)
    };
    let bytes = printed(&document, &options);
    comemo::evict(CACHE_AGE);
    bytes
}

/// The pages of `template` with `data` and `pictures`.
fn set(
    template: &str,
    data: &impl Serialize,
    pictures: &[(String, &[u8])],
    day: Day,
) -> Result<PagedDocument, PaperError> {
    let today = Datetime::from_ymd(day.year, day.month, day.day).ok_or(PaperError::Day)?;
    let json = serde_json::to_vec(data).map_err(|e| PaperError::Data(e.to_string()))?;
    let (Some(main), Some(data_id)) = (file_id(template), file_id("/data.json")) else {
        return Err(PaperError::Setting(format!("no template {template}")));
    };
    let desk = Desk {
        main,
        data_id,
        data: Bytes::new(json),
        pictures: pictures
            .iter()
            .filter_map(|(path, bytes)| Some((file_id(path)?, Bytes::new(bytes.to_vec()))))
            .collect(),
        today: Some(today),
    };
    let set = typst::compile::<PagedDocument>(&desk);
    set.output.map_err(|errors| refused(&desk, &errors))
}

fn options(ident: &str, day: Day) -> PdfOptions {
    let noon = Datetime::from_ymd_hms(day.year, day.month, day.day, 12, 0, 0);
    PdfOptions {
        ident: Smart::Custom(ident.to_owned()),
        creator: Smart::Custom(Some("setwright".to_owned())),
        timestamp: noon.map(Timestamp::new_utc),
        ..PdfOptions::default()
    }
}

fn printed(document: &PagedDocument, options: &PdfOptions) -> Result<Vec<u8>, PaperError> {
    typst_pdf::pdf(document, options).map_err(|errors| {
        let told = errors.iter().map(|error| error.message.to_string());
        PaperError::Setting(told.collect::<Vec<_>>().join("; "))
    })
}

/// What the typesetter says, with template and line: a mistake of ours, to be found in a log.
fn refused(desk: &Desk, errors: &[SourceDiagnostic]) -> PaperError {
    use typst::WorldExt;
    let told = errors.iter().map(|error| {
        let id = error.span.id();
        let place = id.zip(desk.range(error.span)).and_then(|(id, range)| {
            let source = desk.source(id).ok()?;
            let line = source.lines().byte_to_line(range.start)? + 1;
            Some(format!("{}:{line}: ", id.get().vpath().get_with_slash()))
        });
        format!("{}{}", place.unwrap_or_default(), error.message)
    });
    PaperError::Setting(told.collect::<Vec<_>>().join("; "))
}
