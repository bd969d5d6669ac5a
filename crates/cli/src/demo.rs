//! The demo shop: invented sheets and jobs in a throw-away store.

use std::net::{IpAddr, Ipv4Addr};

use calc::Message;
use jiff::Timestamp;
use jiff::civil::{Date, date};
use jiff::tz::TimeZone;
use store::Store;
use web::security::fresh_secret;
use web::{App, CardLinks, Clock, scenario};

use crate::args::DemoArgs;
use crate::failure::Failure;
use crate::print::tell;
use crate::serve::{guard, links, listen, serve};
use crate::sheets::{self, File, JOBS};

/// Every file under `sheets/demo`.
const FILES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/demo_files.rs"));

/// Every photo under `sheets/demo`. Nobody took them: they are reckoned pictures of invented parts.
const PHOTOS: &[(&str, &[u8])] = include!(concat!(env!("OUT_DIR"), "/demo_photos.rs"));

/// The day for which the demo's dates are written.
const WRITTEN_FOR: Date = date(2026, 11, 25);

/// Serves the demo shop.
pub async fn run(args: DemoArgs) -> Result<(), Failure> {
    let folder = tempfile::tempdir().map_err(Failure::storage)?;
    let file = args
        .keep
        .clone()
        .unwrap_or_else(|| folder.path().join("demo.setwright"));
    // The port first: a port that is taken is said before anything is written.
    let listener = listen(IpAddr::V4(Ipv4Addr::LOCALHOST), args.port).await?;
    let store = Store::open(&file).await?;
    if store.head().await?.seq == 0 {
        fill(&store).await?;
    }
    let secret = fresh_secret();
    let links = links(&secret, &args.cards)?;
    let guard = guard(&store, secret, &listener)?.bench("demo bench");
    tell(&Message::new("prompt-demo"));
    serve(store, guard, listener, links, None).await
}

/// The demo's sheets as they were written.
pub fn sheet_files() -> Vec<File> {
    let sheets = FILES.iter().filter(|(name, _)| *name != JOBS);
    sheets
        .map(|(name, text)| File {
            name: (*name).to_owned(),
            text: (*text).to_owned(),
        })
        .collect()
}

/// Puts the demo's sheets and jobs into an empty store.
async fn fill(store: &Store) -> Result<(), Failure> {
    let zone = TimeZone::system();
    let now = Timestamp::now();
    let today = now.to_zoned_datetime(zone.clone()).date();
    let files: Vec<File> = sheet_files()
        .into_iter()
        .map(|file| File {
            text: shifted(&file.name, &file.text, today),
            ..file
        })
        .collect();
    sheets::put(store, &files, "Ansa", now).await?;
    let app = App {
        store: store.clone(),
        zone,
        clock: Clock::System,
        links: CardLinks::NONE,
        recordings: None,
    };
    let jobs = FILES.iter().find(|(name, _)| *name == JOBS);
    if let Some((_, text)) = jobs {
        let photo = |name: &str| {
            let found = PHOTOS.iter().find(|(n, _)| *n == name);
            found.map(|(_, bytes)| *bytes)
        };
        let played = scenario::play(&app, text, photo).await;
        played.map_err(Failure::refused)?;
    }
    Ok(())
}

/// A gauge sheet with its dates moved as far as today lies from the day that they were written for,
/// so that gauges in date stay in date.
fn shifted(name: &str, text: &str, today: Date) -> String {
    if !name.starts_with("gauges") {
        return text.to_owned();
    }
    let Ok(by) = WRITTEN_FOR.until(today) else {
        return text.to_owned();
    };
    let moved = |line: &str| -> Option<String> {
        let (key, day) = line.split_once('=')?;
        let day: Date = day.trim().parse().ok()?;
        Some(format!("{key}= {}", day.checked_add(by).ok()?))
    };
    let lines: Vec<String> = text
        .lines()
        .map(|line| moved(line).unwrap_or_else(|| line.to_owned()))
        .collect();
    lines.join("\n") + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gauge_dates_move_with_today() {
        let text = "id = \"c-3\"\ncalibrated = 2026-03-02\ndue = 2027-03-02\n";
        let moved = shifted("gauges/c-3.toml", text, date(2026, 12, 5));
        assert_eq!(
            moved,
            "id = \"c-3\"\ncalibrated = 2026-03-12\ndue = 2027-03-12\n"
        );
        assert_eq!(shifted("models/x.toml", text, date(2026, 12, 5)), text);
    }
}
