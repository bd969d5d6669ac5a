//! What the handlers share: the record, the clock, the shop's time zone.

use axum::response::Response;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use shop::entry::PersonKey;
use shop::job::Desk;
use shop::sheet::Shelf;
use store::{Store, StoreError};

use crate::recordings::RecordingsFolder;
use crate::setup::CardLinks;
use crate::shell::{Page, internal};

/// The program as the handlers see it.
#[derive(Clone)]
pub struct App {
    /// The record.
    pub store: Store,
    /// Time zone of the shop.
    pub zone: TimeZone,
    /// What time it is.
    pub clock: Clock,
    /// What makes and reads the links on set-up cards.
    pub links: CardLinks,
    /// Where a logger leaves its recordings, if the shop named a folder.
    pub recordings: Option<RecordingsFolder>,
}

/// Where the time comes from.
#[derive(Clone, Copy, Debug)]
pub enum Clock {
    /// This machine.
    System,
    /// Always this moment: for a scenario that is played at its own time.
    Fixed(Timestamp),
}

impl App {
    /// Now, and the day that it is in the shop.
    pub fn now(&self) -> (Timestamp, Date) {
        let now = match self.clock {
            Clock::System => Timestamp::now(),
            Clock::Fixed(at) => at,
        };
        (now, now.to_zoned_datetime(self.zone.clone()).date())
    }

    /// What decisions stand on, with the sheets of `shelf`.
    pub fn desk<'a>(&'a self, shelf: &'a Shelf) -> Desk<'a> {
        let (now, today) = self.now();
        Desk {
            shelf,
            now,
            today,
            zone: &self.zone,
            learned: None,
            worn: &[],
        }
    }

    /// The key of the name picked at the bench; `None` if nobody picked one.
    pub(crate) async fn visitor_key(&self, page: &Page) -> Result<Option<PersonKey>, Response> {
        match &page.visitor.who {
            None => Ok(None),
            Some(name) => self.store.person(name).await.map(Some).map_err(failed),
        }
    }
}

/// The answer to a read that failed: nothing was typed, so nothing can be lost.
pub(crate) fn failed(error: StoreError) -> Response {
    internal(error)
}
