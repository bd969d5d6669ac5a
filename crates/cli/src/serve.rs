//! The server: the pages behind their guard, on this machine or on the shop's network.

use std::io::{Read, Write};
use std::net::{IpAddr, Ipv4Addr, SocketAddr};
use std::path::Path;
use std::sync::Arc;
use std::{fs, io};

use calc::Message;
use jiff::tz::TimeZone;
use store::Store;
use tokio::net::TcpListener;
use web::security::{Guard, fresh_secret, hash_passphrase, protect};
use web::{App, CardLinks, Clock, RecordingsFolder, pages};

use crate::args::{CardsArg, ServeArgs};
use crate::data_folder::store_file;
use crate::failure::Failure;
use crate::print::{say, tell};

/// Serves the shop's own store.
pub async fn run(args: ServeArgs) -> Result<(), Failure> {
    let file = store_file(args.store.store)?;
    let passphrase = match (&args.passphrase_file, args.lan.is_empty()) {
        (Some(path), false) => Some(hashed(path)?),
        _ => None,
    };
    // Before anything is opened: a folder that is misspelt must not end a day later as a missing recording.
    let recordings = args.recordings.as_deref().map(recordings).transpose()?;
    let store = Store::open(&file).await?;
    let address = if args.lan.is_empty() {
        IpAddr::V4(Ipv4Addr::LOCALHOST)
    } else {
        IpAddr::V4(Ipv4Addr::UNSPECIFIED)
    };
    let listener = listen(address, args.port).await?;
    let secret = kept_secret(&file)?;
    let links = links(&secret, &args.cards)?;
    let guard = guard(&store, secret, &listener)?.bench(&args.bench);
    let guard = match passphrase {
        Some(hash) => guard.lan(&hash, &args.lan),
        None => guard,
    };
    let record = Message::new("prompt-record").with("path", file.display().to_string());
    tell(&record);
    if let Some(path) = &args.recordings {
        let path = path.display().to_string();
        tell(&Message::new("prompt-recordings").with("path", path));
    }
    serve(store, guard, listener, links, recordings).await
}

fn recordings(path: &Path) -> Result<RecordingsFolder, Failure> {
    RecordingsFolder::at(path).map_err(|error| {
        let message = Message::new("prompt-no-recordings")
            .with("path", path.display().to_string())
            .with("why", error.to_string());
        Failure::refused(say(&message))
    })
}

/// A listener on `address`.
pub async fn listen(address: IpAddr, port: u16) -> Result<TcpListener, Failure> {
    TcpListener::bind((address, port)).await.map_err(|e| {
        let taken = Message::new("prompt-port")
            .with("port", port.to_string())
            .with("why", e.to_string());
        Failure::storage(say(&taken))
    })
}

/// A guard for this machine, with the names of the shop card.
pub fn guard(store: &Store, secret: [u8; 32], listener: &TcpListener) -> Result<Guard, Failure> {
    let port = listener.local_addr().map_err(Failure::storage)?.port();
    let shelf = store.shelf();
    let people = shelf.shops().next().map(|(_, card)| card.people.clone());
    Ok(Guard::local(secret, port).people(&people.unwrap_or_default()))
}

/// What makes and reads the links on cards.
pub fn links(secret: &[u8; 32], cards: &CardsArg) -> Result<CardLinks, Failure> {
    let links = CardLinks::new(secret, cards.address_on_cards.as_deref());
    links.map_err(|why| Failure::refused(say(&why)))
}

/// Serves until the process is asked to stop.
pub async fn serve(
    store: Store,
    guard: Guard,
    listener: TcpListener,
    links: CardLinks,
    recordings: Option<RecordingsFolder>,
) -> Result<(), Failure> {
    if let Some(folder) = recordings.clone() {
        tokio::spawn(folder.watch());
    }
    let port = listener.local_addr().map_err(Failure::storage)?.port();
    let app = App {
        store: store.clone(),
        zone: TimeZone::system(),
        clock: Clock::System,
        links,
        recordings,
    };
    let router = protect(pages(app), Arc::new(guard));
    let address = format!("http://127.0.0.1:{port}/");
    let address = Message::new("prompt-address").with("address", address);
    tell(&address);
    io::stdout().flush().map_err(Failure::storage)?;
    // With the caller's address, so that wrong passphrases are counted for each of them.
    let router = router.into_make_service_with_connect_info::<SocketAddr>();
    axum::serve(listener, router)
        .with_graceful_shutdown(asked_to_stop())
        .await
        .map_err(Failure::storage)?;
    store.close().await;
    Ok(())
}

async fn asked_to_stop() {
    let interrupted = tokio::signal::ctrl_c();
    #[cfg(unix)]
    {
        let terminated = tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate());
        if let Ok(mut terminated) = terminated {
            tokio::select! {
                _ = interrupted => {}
                _ = terminated.recv() => {}
            }
            return;
        }
    }
    // Without a way to hear of it, the process ends when it is killed: the record stands that.
    let _ = interrupted.await;
}

fn hashed(path: &Path) -> Result<String, Failure> {
    let mut text = String::new();
    let read = if path == Path::new("-") {
        io::stdin().read_to_string(&mut text).map(|_| ())
    } else {
        fs::read_to_string(path).map(|t| text = t)
    };
    read.map_err(Failure::unreadable(path))?;
    hash_passphrase(text.lines().next().unwrap_or_default()).map_err(Failure::refused)
}

/// The secret that ties forms to their browser, kept beside the store: a form that was open when
/// the program stopped can still be sent when it runs again.
pub fn kept_secret(store: &Path) -> Result<[u8; 32], Failure> {
    let mut name = store.as_os_str().to_owned();
    name.push(".secret");
    let path = Path::new(&name);
    if let Ok(bytes) = fs::read(path)
        && let Ok(secret) = <[u8; 32]>::try_from(bytes.as_slice())
    {
        return Ok(secret);
    }
    let secret = fresh_secret();
    write_private(path, &secret).map_err(Failure::at(path))?;
    Ok(secret)
}

fn write_private(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut options = fs::OpenOptions::new();
    options.write(true).create(true).truncate(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(0o600);
    }
    options.open(path)?.write_all(bytes)
}
