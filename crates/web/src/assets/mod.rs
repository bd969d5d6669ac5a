//! Style sheet, script, font and icon: in the binary, served under a name that changes with their
//! content, so that browsers keep them for good.

use std::sync::LazyLock;

use axum::Router;
use axum::extract::Path;
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use axum::routing::get;
use sha2::{Digest, Sha256};
use tower_http::compression::CompressionLayer;
use tower_http::compression::predicate::{NotForContentType, Predicate, SizeAbove};

/// The style sheet: its parts in the order in which later ones may overrule earlier ones.
const STYLE: &str = concat!(
    include_str!("../../assets/css/tokens.css"),
    include_str!("../../assets/css/base.css"),
    include_str!("../../assets/css/top.css"),
    include_str!("../../assets/css/sheet.css"),
    include_str!("../../assets/css/answer.css"),
    include_str!("../../assets/css/tables.css"),
    include_str!("../../assets/css/verdict.css"),
    include_str!("../../assets/css/notes.css"),
    include_str!("../../assets/css/forms.css"),
    include_str!("../../assets/css/lists.css"),
    include_str!("../../assets/css/job.css"),
    include_str!("../../assets/css/files.css"),
    include_str!("../../assets/css/plot.css"),
    include_str!("../../assets/css/print.css"),
);
const SCRIPT: &str = include_str!("../../assets/setwright.js");
const DRAFTS_SCRIPT: &str = include_str!("../../assets/drafts.js");
const FILES_SCRIPT: &str = include_str!("../../assets/files.js");
const PLOT_SCRIPT: &str = include_str!("../../assets/plot.js");
const ICON: &str = include_str!("../../assets/icon.svg");
const FONT: &[u8] = include_bytes!("../../assets/fonts/inter.woff2");

/// Name, type and content of each.
const ASSETS: &[(&str, &str, &[u8])] = &[
    ("setwright.css", "text/css; charset=utf-8", STYLE.as_bytes()),
    (
        "setwright.js",
        "text/javascript; charset=utf-8",
        SCRIPT.as_bytes(),
    ),
    (
        "drafts.js",
        "text/javascript; charset=utf-8",
        DRAFTS_SCRIPT.as_bytes(),
    ),
    (
        "files.js",
        "text/javascript; charset=utf-8",
        FILES_SCRIPT.as_bytes(),
    ),
    (
        "plot.js",
        "text/javascript; charset=utf-8",
        PLOT_SCRIPT.as_bytes(),
    ),
    ("icon.svg", "image/svg+xml", ICON.as_bytes()),
    ("fonts/inter.woff2", "font/woff2", FONT),
];

/// One name for all of them: the style sheet finds its font beside it.
static BUNDLE: LazyLock<String> = LazyLock::new(|| {
    let mut hash = Sha256::new();
    for (name, _, content) in ASSETS {
        hash.update(name);
        hash.update(content);
    }
    let hash = hash.finalize();
    hash.iter()
        .take(8)
        .map(|byte| format!("{byte:02x}"))
        .collect()
});

/// Where `name` is served.
pub fn url(name: &str) -> String {
    format!("/assets/{}/{name}", *BUNDLE)
}

/// The assets alone are compressed: a page holds a secret beside what a visitor typed, and its
/// compressed length would tell about the secret.
pub(crate) fn router() -> Router {
    let pays = SizeAbove::new(512).and(NotForContentType::const_new("font/"));
    Router::new()
        .route("/assets/{bundle}/{*name}", get(serve))
        .layer(CompressionLayer::new().gzip(true).compress_when(pays))
}

async fn serve(Path((bundle, name)): Path<(String, String)>) -> Response {
    let found = ASSETS.iter().find(|(own, ..)| *own == name);
    match found {
        Some((_, kind, content)) if bundle == *BUNDLE => {
            let forever = "public, max-age=31536000, immutable";
            let headers = [(CONTENT_TYPE, *kind), (CACHE_CONTROL, forever)];
            (headers, *content).into_response()
        }
        _ => StatusCode::NOT_FOUND.into_response(),
    }
}
