//! `pulls read`: a logger's file at the prompt, streamed.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;

use calc::Message;
use calc::pull::reading::{Fastener, Filter, Reading, Setup, Value, read_pull};
use calc::pull::recording::{Bounds, Fault, Reader, RecordedPull};
use calc::working::fixed;
use serde_json::{Value as Json, json};
use shop::pulls::numbers;
use shop::sheet::{Rig, Sheet, read as read_sheet};
use web::pull_names;
use words::Words;

use crate::args::{Pulled, ReadArgs};
use crate::failure::Failure;
use crate::print::{print_line, print_text, say, table};

/// Reads the file and prints what is in it.
///
/// # Errors
/// Refused: no pull can be read, the rig's sheet has a mistake. Storage: the file cannot be read.
pub fn read(args: &ReadArgs) -> Result<(), Failure> {
    let rig = args.rig.as_deref().map(rig).transpose()?;
    let setup = Setup {
        filter: rig.as_ref().map_or(Filter::Usual, |rig| rig.filter),
        ..Setup::of(match args.pulled {
            Pulled::BreakLockbolt => Fastener::BreakLockbolt,
            Pulled::StopLockbolt | Pulled::Stall => Fastener::StopLockbolt,
            Pulled::BlindRivet => Fastener::BlindRivet,
            Pulled::RivetNut => Fastener::RivetNut,
        })
    };
    let to_stall = args.pulled == Pulled::Stall;
    let mut out = Out {
        json: args.json,
        to_stall,
        pulls: 0,
        read: 0,
    };
    let recording = rig.map(|rig| rig.recording).unwrap_or_default();
    let reader = Reader::new(recording, Bounds::default());
    let faults = if args.file == Path::new("-") {
        stream(reader, io::stdin(), &args.file, &setup, &mut out)?
    } else {
        let file = File::open(&args.file).map_err(Failure::unreadable(&args.file))?;
        stream(reader, file, &args.file, &setup, &mut out)?
    };
    out.end(&faults)?;
    if out.read > 0 {
        return Ok(());
    }
    Err(Failure::refused(say(&Message::new("prompt-no-pull"))))
}

/// Pulls go out as they are read: however long the file is, one of them is held.
struct Out {
    json: bool,
    to_stall: bool,
    /// Pulls found.
    pulls: usize,
    /// Pulls that could be read.
    read: usize,
}

impl Out {
    fn pull(&mut self, pull: &RecordedPull, setup: &Setup) -> Result<(), Failure> {
        self.pulls += 1;
        let pull = Pull {
            number: self.pulls,
            lines: (pull.first_line, pull.last_line),
            reading: read_pull(pull, setup),
        };
        self.read += usize::from(pull.reading.is_ok());
        if !self.json {
            show(&pull, self.to_stall);
            return Ok(());
        }
        let value = pull_json(&pull, self.to_stall);
        let text = serde_json::to_string_pretty(&value).map_err(Failure::storage)?;
        print_text(if self.pulls == 1 {
            "{\"pulls\": [\n"
        } else {
            ",\n"
        });
        print_text(&text);
        Ok(())
    }

    /// The faults, which are known when the file is at its end.
    fn end(&self, faults: &[Fault]) -> Result<(), Failure> {
        if !self.json {
            if self.pulls > 0 && !faults.is_empty() {
                print_line("");
            }
            let said = faults.iter().map(|fault| say(&fault.message()));
            said.for_each(|line| print_line(&line));
            // Without a store nobody knows the gauges.
            if self.read > 0 {
                print_line("");
                print_line(&say(&Message::new("prompt-pulls-exact")));
            }
            return Ok(());
        }
        let faults: Vec<Json> = faults.iter().map(fault_json).collect();
        let text = serde_json::to_string_pretty(&faults).map_err(Failure::storage)?;
        print_text(if self.pulls == 0 {
            "{\"pulls\": ["
        } else {
            "\n"
        });
        print_text(&format!("], \"faults\": {text}}}\n"));
        Ok(())
    }
}

/// A pull, read.
struct Pull {
    number: usize,
    lines: (u64, u64),
    reading: Result<Reading, calc::CalcError>,
}

fn rig(path: &Path) -> Result<Rig, Failure> {
    let text = fs::read_to_string(path).map_err(Failure::unreadable(path))?;
    match read_sheet(&path.display().to_string(), &text) {
        Ok(Sheet::Rig(rig)) => Ok(rig),
        Ok(_) => {
            let message = Message::new("prompt-no-rig").with("file", path.display().to_string());
            Err(Failure::refused(say(&message)))
        }
        Err(mistakes) => {
            let lines = mistakes
                .iter()
                .map(|m| format!("{}:{}: {}: {}", m.file, m.line, m.key, say(&m.problem)));
            Err(Failure::refused(lines.collect::<Vec<_>>().join("\n")))
        }
    }
}

/// Reads `from` piece by piece; pulls go to `out`.
fn stream(
    mut reader: Reader,
    mut from: impl Read,
    named: &Path,
    setup: &Setup,
    out: &mut Out,
) -> Result<Vec<Fault>, Failure> {
    let mut piece = vec![0; 256 * 1024];
    let mut found: Vec<RecordedPull> = Vec::new();
    let mut take = |found: &mut Vec<RecordedPull>| {
        let mut pulls = found.drain(..);
        pulls.try_for_each(|pull| out.pull(&pull, setup))
    };
    loop {
        match from.read(&mut piece) {
            Ok(0) => break,
            Ok(length) => reader.feed(&piece[..length], &mut found),
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(Failure::at(named)(error)),
        }
        take(&mut found)?;
    }
    let told = reader.finish(&mut found);
    take(&mut found)?;
    Ok(told.faults)
}

fn show(pull: &Pull, to_stall: bool) {
    let words = Words::english();
    print_line("");
    let head = Message::new("prompt-pull")
        .with("number", pull.number)
        .with("first", pull.lines.0)
        .with("last", pull.lines.1);
    print_line(&say(&head));
    let reading = match &pull.reading {
        Ok(reading) => reading,
        Err(why) => return print_line(&say(&why.message())),
    };
    print_line(&words.text(pull_names::ending(reading.ending)));
    let shown = |value: Value, decimals| {
        let (value, expanded) = (value.value, value.expanded());
        match expanded > 0.0 {
            true => format!("{} ± {}", fixed(value, decimals), fixed(expanded, decimals)),
            false => fixed(value, decimals),
        }
    };
    let rows = numbers(reading, to_stall).into_iter();
    let rows = rows.map(|(feature, value)| {
        vec![
            words.text(pull_names::plain(feature)),
            shown(value, feature.decimals()),
            feature.symbol().to_owned(),
        ]
    });
    table(&["pulls-what", "pulls-value", ""], rows);
    if !to_stall && !reading.phases.is_empty() {
        let rows = reading.phases.iter().map(|found| {
            vec![
                words.text(pull_names::phase(found.phase)),
                shown(found.begin_mm, 2),
                shown(found.end_mm, 2),
                shown(found.energy_j, 1),
            ]
        });
        table(
            &["pulls-phase", "pulls-from", "pulls-to", "pulls-energy"],
            rows,
        );
    }
}

fn fault_json(fault: &Fault) -> Json {
    json!({ "line": fault.line, "last_line": fault.last_line, "message": say(&fault.message()) })
}

fn pull_json(pull: &Pull, to_stall: bool) -> Json {
    let lines = json!([pull.lines.0, pull.lines.1]);
    let reading = match &pull.reading {
        Ok(reading) => reading,
        Err(why) => {
            return json!({ "number": pull.number, "lines": lines, "refused": say(&why.message()) });
        }
    };
    let value = |v: Value| json!({ "value": v.value, "expanded": v.expanded() });
    let features = numbers(reading, to_stall).into_iter().map(|(feature, v)| {
        json!({ "feature": feature.key(), "value": v.value, "expanded": v.expanded(), "unit": feature.symbol() })
    });
    let phases = reading.phases.iter().map(|found| {
        json!({
            "phase": Words::english().text(pull_names::phase(found.phase)),
            "begin_mm": value(found.begin_mm), "end_mm": value(found.end_mm),
            "travel_mm": value(found.travel_mm), "energy_j": value(found.energy_j),
        })
    });
    let slips = reading.slips.iter().map(|slip| {
        json!({ "at_s": slip.at_s, "stroke_mm": slip.stroke_mm, "drop_kn": slip.drop_kn.value, "lost_mm": slip.lost_mm })
    });
    let phases: Vec<Json> = if to_stall {
        Vec::new()
    } else {
        phases.collect()
    };
    json!({
        "number": pull.number, "lines": lines,
        "peak_raw_kn": reading.features.peak_raw_kn,
        "features": features.collect::<Vec<_>>(), "phases": phases,
        "slips": slips.collect::<Vec<_>>(),
    })
}
