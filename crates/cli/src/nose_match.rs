//! Nose match at the prompt.

use calc::Message;
use jiff::Timestamp;
use jiff::tz::TimeZone;
use serde_json::{Value, json};
use shop::nose_match::{
    Fit, LookAlikeOf, Match, Offer, Ranked, Sale, Settable, Size, Twins, at_hand, best_caliper,
    look_alikes, rank, sale, settable, smallest_told_mm, twins,
};
use shop::sheet::{Drive, FastenerFamily, Gauge, Kind, NoseSet, Shelf, ShopCard, ToolModel};
use store::Store;

use crate::args::MatchArgs;
use crate::data_folder::store_file;
use crate::failure::Failure;
use crate::print::{print_json, print_line, say, table, tell};

/// What was asked, with the sheets that it names.
struct Asked<'a> {
    model: &'a ToolModel,
    fastener: Option<&'a FastenerFamily>,
    held: Vec<&'a NoseSet>,
    all: Vec<&'a NoseSet>,
    fasteners: Vec<&'a FastenerFamily>,
    caliper: Option<&'a Gauge>,
    shop: Option<&'a ShopCard>,
}

impl<'a> Asked<'a> {
    fn at_hand(&self) -> Vec<&'a NoseSet> {
        if self.held.is_empty() {
            self.all.clone()
        } else {
            at_hand(&self.held, &self.all)
        }
    }

    /// Sets that go onto this tool.
    fn of_thread(&self) -> impl Iterator<Item = &'a NoseSet> {
        let thread = &self.model.front_end;
        self.all
            .iter()
            .copied()
            .filter(move |n| n.thread == *thread)
    }
}

/// Everything about one tool, for one fastener if one is named.
pub async fn run(args: MatchArgs) -> Result<(), Failure> {
    let store = Store::open_to_read(&store_file(args.store.store)?).await?;
    let shelf = store.shelf();
    let today = Timestamp::now()
        .to_zoned_datetime(TimeZone::system())
        .date();
    let models = shelf.models().map(|(_, m)| m).collect();
    let fasteners: Vec<&FastenerFamily> = shelf.fasteners().map(|(_, f)| f).collect();
    let all: Vec<&NoseSet> = shelf.nose_sets().map(|(_, n)| n).collect();
    let fastener = match &args.fastener {
        Some(id) => Some(named(Kind::Fastener, id, &fasteners, |f| &f.id)?),
        None => None,
    };
    let held = args.held.iter();
    let held = held.map(|id| named(Kind::NoseSet, id, &all, |n| &n.id));
    let asked = Asked {
        model: named(Kind::ToolModel, &args.model, &models, |m| &m.id)?,
        fastener,
        held: held.collect::<Result<_, _>>()?,
        all,
        fasteners,
        caliper: best_caliper(shelf.gauges().map(|(_, g)| g), |g| {
            shelf.is_in_date(g, today)
        }),
        shop: shop(&shelf),
    };
    if args.print.json {
        return print_json(&whole(&asked));
    }
    match asked.fastener {
        Some(fastener) => print_fastener(&asked, fastener),
        None => print_tool(&asked),
    }
    Ok(())
}

fn shop(shelf: &Shelf) -> Option<&ShopCard> {
    shelf.shops().map(|(_, shop)| shop).next()
}

/// The sheet `id`, or a refusal that names those that there are.
fn named<'a, T>(
    kind: Kind,
    id: &str,
    sheets: &Vec<&'a T>,
    id_of: impl Fn(&T) -> &str,
) -> Result<&'a T, Failure> {
    let found = sheets.iter().find(|sheet| id_of(sheet) == id);
    found.copied().ok_or_else(|| {
        let known: Vec<&str> = sheets.iter().map(|sheet| id_of(sheet)).collect();
        let none = Message::new("match-no-sheet")
            .with("kind", kind.key())
            .with("id", id)
            .with("known", known.join(", "));
        Failure::refused(say(&none))
    })
}

fn verdict(fit: Fit) -> String {
    say(&Message::new(match fit {
        Fit::Yes => "match-fits",
        Fit::No => "match-fits-not",
        Fit::Unknown => "match-unknown",
    }))
}

/// What speaks against a set, or what is missing to decide it.
fn against(found: &Match) -> String {
    let failed = found.reasons.iter().filter(|r| r.fit == Fit::No);
    let failed = failed.map(|r| format!("{}: {}", say(&r.name), say(&r.detail)));
    let missing = found.missing().into_iter().map(say);
    match found.fit() {
        Fit::Yes => String::new(),
        Fit::No => failed.collect::<Vec<_>>().join("; "),
        Fit::Unknown => missing.collect::<Vec<_>>().join(" "),
    }
}

fn print_fastener(asked: &Asked, fastener: &FastenerFamily) {
    let model = asked.model;
    let question = Message::new("match-question")
        .with("fastener", fastener.name.as_str())
        .with("model", model.name.as_str());
    tell(&question);
    let ranked = rank(model, fastener, asked.at_hand());
    let rows = ranked
        .iter()
        .map(|r| vec![r.nose.id.clone(), verdict(r.found.fit()), against(&r.found)]);
    table(
        &["match-set", "match-verdict-column", "match-against"],
        rows,
    );
    if ranked
        .iter()
        .any(|r| r.found.fit() == Fit::Unknown && r.found.hands_near())
    {
        tell(&caution(model));
    }
    let found = sale(model, fastener, &asked.held, &asked.all, asked.shop);
    print_line("");
    print_sale(asked, &found);
}

fn print_sale(asked: &Asked, found: &Sale) {
    tell(&Message::new("match-buy"));
    match (&found.held, found.offers.first()) {
        (Some(set), _) => {
            let id = match set.found.fit() {
                Fit::Yes => "match-buy-nothing",
                _ => "match-buy-held-open",
            };
            tell(&Message::new(id).with("nose", set.nose.name.as_str()));
        }
        (None, None) => tell(&Message::new("match-buy-none")),
        (None, Some(_)) => {}
    }
    for offer in &found.offers {
        print_offer(asked, offer);
    }
}

fn print_offer(asked: &Asked, offer: &Offer) {
    let name = offer.set.nose.name.as_str();
    tell(&Message::new("match-buy-offer").with("nose", name));
    if offer.set.found.fit() == Fit::Unknown {
        tell(&Message::new("match-buy-open"));
    }
    let rows = offer.buy.iter().map(|line| {
        let or = |known: Option<String>, id| known.unwrap_or_else(|| say(&Message::new(id)));
        vec![
            line.part.key().to_owned(),
            or(line.number.map(str::to_owned), "match-number-none"),
            or(line.on_hand.map(|n| n.to_string()), "match-on-hand-none"),
            or(line.price.map(|p| format!("{p:.2}")), "match-price-none"),
        ]
    });
    table(
        &["match-part", "match-number", "match-on-hand", "match-price"],
        rows,
    );
    let currency = asked.shop.map_or("", |s| s.currency.as_str());
    let total = say(&Message::new("match-total"));
    print_line(&format!("{total} {:.2} {currency}", offer.totals.gross));
    if offer.without_price() > 0 {
        tell(&Message::new("match-total-least").with("count", offer.without_price()));
    }
}

/// Before parts come out of the nose to be measured.
fn caution(model: &ToolModel) -> Message {
    Message::new(match model.drive {
        Drive::Battery => "setting-caution-battery",
        Drive::AirHydraulic => "setting-caution-air",
        Drive::Hydraulic => "setting-caution-pump",
    })
}

fn print_tool(asked: &Asked) {
    tell(&Message::new("match-can"));
    let found = settable(
        asked.model,
        asked.fasteners.iter().copied(),
        &asked.at_hand(),
    );
    if found.is_empty() {
        tell(&Message::new("match-can-none"));
    } else {
        let rows = found.iter().map(|can| {
            vec![
                can.fastener.id.clone(),
                can.best.nose.id.clone(),
                verdict(can.best.found.fit()),
                against(&can.best.found),
            ]
        });
        table(
            &["match-fastener", "match-set", "match-verdict-column", ""],
            rows,
        );
    }
    print_line("");
    tell(&Message::new("match-twins"));
    let pairs = twins(asked.of_thread(), asked.caliper);
    let named = look_alikes(asked.of_thread(), asked.caliper);
    if pairs.is_empty() && named.is_empty() {
        return tell(&Message::new("match-twins-none"));
    }
    tell(&caution(asked.model));
    let rows = pairs.iter().flat_map(|pair| {
        let [first, second] = pair.numbers();
        let what = say(&Message::new("match-pair")
            .with("first", first)
            .with("second", second));
        pair.differences.iter().map(move |d| {
            let [a, b, by] = d.figures();
            let tell = say(&d.tell.words(d.size));
            vec![what.clone(), say(&d.size.name()), a, b, by, tell]
        })
    });
    let own = named.iter().map(|one| {
        let what = Message::new("match-pair")
            .with("first", one.nose.collet.number.as_str())
            .with("second", one.part.number.as_str());
        let (a, b) = (one.part.this_mm, one.part.that_mm);
        let mm = |value: f64| format!("{value:.1} mm");
        let tell = say(&one.tell.words(Size::ColletLength));
        vec![
            say(&what),
            one.part.differs.clone(),
            mm(a),
            mm(b),
            mm((a - b).abs()),
            tell,
        ]
    });
    table(
        &[
            "match-part",
            "match-size-column",
            "",
            "",
            "match-by",
            "match-tell",
        ],
        rows.chain(own),
    );
}

/// All of it, for programs.
fn whole(asked: &Asked) -> Value {
    let model = asked.model;
    let can = settable(model, asked.fasteners.iter().copied(), &asked.at_hand());
    let pairs = twins(asked.of_thread(), asked.caliper);
    let named = look_alikes(asked.of_thread(), asked.caliper);
    let mut all = json!({
        "model": model.id,
        "held": asked.held.iter().map(|n| &n.id).collect::<Vec<_>>(),
        "can_set": can.iter().map(can_set).collect::<Vec<_>>(),
        "twins": pairs.iter().map(two).collect::<Vec<_>>(),
        "look_alikes": named.iter().map(look_alike).collect::<Vec<_>>(),
        "caliper": asked.caliper.map(|g| json!({
            "id": g.id, "tells_above_mm": smallest_told_mm(g.doubt()),
        })),
    });
    if let Some(fastener) = asked.fastener {
        let ranked = rank(model, fastener, asked.at_hand());
        let found = sale(model, fastener, &asked.held, &asked.all, asked.shop);
        all["fastener"] = json!(fastener.id);
        all["sets"] = ranked.iter().map(set).collect();
        all["sale"] = json!({
            "currency": asked.shop.map(|s| &s.currency),
            "held": found.held.as_ref().map(set),
            "offers": found.offers.iter().map(offer).collect::<Vec<_>>(),
        });
    }
    all
}

fn set(ranked: &Ranked) -> Value {
    let reasons = ranked.found.reasons.iter().map(|r| {
        json!({
            "criterion": say(&r.name), "verdict": r.fit.key(), "numbers": say(&r.detail),
            "missing": r.missing.iter().map(say).collect::<Vec<_>>(),
        })
    });
    json!({
        "nose_set": ranked.nose.id, "verdict": ranked.found.fit().key(),
        "margin_kN": ranked.margin_kn, "reasons": reasons.collect::<Vec<_>>(),
    })
}

fn can_set(can: &Settable) -> Value {
    json!({
        "fastener": can.fastener.id, "nose_set": can.best.nose.id,
        "verdict": can.best.found.fit().key(),
        "missing": can.best.found.missing().into_iter().map(say).collect::<Vec<_>>(),
    })
}

fn offer(offer: &Offer) -> Value {
    let buy = offer.buy.iter().map(|l| {
        json!({
            "part": l.part.key(), "number": l.number, "on_hand": l.on_hand,
            "price": l.price.map(|p| p.to_string()),
        })
    });
    json!({
        "nose_set": offer.set.nose.id, "verdict": offer.set.found.fit().key(),
        "buy": buy.collect::<Vec<_>>(), "without_price": offer.without_price(),
        "net": format!("{:.2}", offer.totals.net), "tax": format!("{:.2}", offer.totals.tax),
        "total": format!("{:.2}", offer.totals.gross),
    })
}

fn two(pair: &Twins) -> Value {
    let differences = pair.differences.iter().map(|d| {
        json!({
            "size": d.size.key(), "first": d.first, "second": d.second, "by": d.by(),
            "tell": d.tell.key(), "how": say(&d.tell.words(d.size)),
        })
    });
    json!({
        "first": pair.first.id, "second": pair.second.id,
        "differences": differences.collect::<Vec<_>>(),
        "not_known": pair.not_known.iter().map(|s| s.key()).collect::<Vec<_>>(),
    })
}

fn look_alike(one: &LookAlikeOf) -> Value {
    json!({
        "nose_set": one.nose.id, "right": one.nose.collet.number, "wrong": one.part.number,
        "differs": one.part.differs, "this_mm": one.part.this_mm, "that_mm": one.part.that_mm,
        "effect": one.part.effect, "tell": one.tell.key(),
    })
}
