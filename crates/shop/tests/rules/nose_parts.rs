//! What must be bought for a fastener that no held set fits.

use proptest::prelude::*;
use rust_decimal::Decimal;
use shop::nose_match::{PartKind, Sale, at_hand, sale};
use shop::sheet::{NoseSet, ShopCard};

use crate::bench::{model, shelf};
use crate::nose_order::{families, family, nose, noses};

fn shop() -> &'static ShopCard {
    shelf().shops().next().expect("the shop's card").1
}

fn money(text: &str) -> Decimal {
    text.parse().expect("an amount")
}

fn buys(tool: &str, fastener: &str, held: &[&'static NoseSet]) -> Sale<'static> {
    sale(model(tool), family(fastener), held, &noses(), Some(shop()))
}

#[test]
fn a_set_that_is_held_and_fits_needs_nothing() {
    let found = buys(
        "tulvane-tb-32",
        "marlstead-m8",
        &[nose("n8"), nose("n30-d6")],
    );
    assert_eq!(found.held.expect("held").nose.id, "n8");
    assert!(found.offers.is_empty());
}

#[test]
fn who_holds_nothing_buys_the_whole_set() {
    // Demo sheets: collet 64.00, anvil 38.00, housing 54.00; 5, 6 and 3 on hand.
    let found = buys("tulvane-tb-32", "marlstead-m8", &[]);
    assert!(found.held.is_none());
    let [offer] = found.offers.as_slice() else {
        panic!("{found:?}");
    };
    assert_eq!(offer.set.nose.id, "n8");
    let lines: Vec<_> = offer
        .buy
        .iter()
        .map(|l| (l.part, l.number, l.on_hand))
        .collect();
    assert_eq!(
        lines,
        [
            (PartKind::Collet, Some("CR8"), Some(5)),
            (PartKind::Anvil, Some("TB32-110"), Some(6)),
            (PartKind::Housing, Some("TB32-112"), Some(3)),
        ]
    );
    assert_eq!(offer.totals.net, money("156.00"));
    assert_eq!(offer.without_price(), 0);
}

#[test]
fn parts_of_the_same_number_are_not_bought_again() {
    // The B12 sets share anvil and housing: only the collet, 158.00.
    let found = buys("skarnholt-hp-90", "brackwell-b12", &[nose("n48-b12n")]);
    let offer = &found.offers[0];
    let numbers: Vec<_> = offer.buy.iter().filter_map(|l| l.number).collect();
    assert_eq!(numbers, ["HP90-11B"]);
    assert_eq!(offer.totals.gross, money("158.00"));
    // Collet and anvil for the other fastener of the TB-32: the housing is held.
    let found = buys("tulvane-tb-32", "drumhale-d6", &[nose("n8")]);
    let numbers: Vec<_> = found.offers[0]
        .buy
        .iter()
        .filter_map(|l| l.number)
        .collect();
    assert_eq!(numbers, ["CV6", "TB32-108"]);
    assert_eq!(found.offers[0].totals.net, money("104.00"));
}

#[test]
fn parts_of_several_sets_make_another() {
    // A set that nobody ordered: the collet for break-tail pins, another anvil and housing.
    let mut spare = nose("n48-b10").clone();
    spare.collet = nose("n48-b12").collet.clone();
    let ids = |sets: Vec<&NoseSet>| -> Vec<String> { sets.iter().map(|n| n.id.clone()).collect() };
    let (all, n48) = (noses(), nose("n48-b12n"));
    assert_eq!(ids(at_hand(&[&spare], &all)), ["n48-b10"]);
    assert_eq!(
        ids(at_hand(&[&spare, n48], &all)),
        ["n48-b10", "n48-b12n", "n48-b12"]
    );
    let found = sale(
        model("skarnholt-hp-90"),
        family("brackwell-b12"),
        &[&spare, n48],
        &all,
        Some(shop()),
    );
    assert_eq!(found.held.map(|r| r.nose.id.as_str()), Some("n48-b12"));
    assert!(found.offers.is_empty());
    // A housing without a number may be another one.
    let mut silent = n48.clone();
    silent.housing.number = None;
    assert_eq!(ids(at_hand(&[&silent], &all)), ["n48-b12n"]);
    let mut unnumbered = nose("n48-b12").clone();
    unnumbered.housing.number = None;
    assert_eq!(
        ids(at_hand(&[&spare, n48], &[&unnumbered])),
        ["n48-b10", "n48-b12n"]
    );
}

#[test]
fn a_price_comes_from_the_model_sheet_where_the_set_has_none() {
    let mut set = nose("n8").clone();
    set.collet.counter = shop::sheet::Counter::default();
    set.housing.number = None;
    set.housing.counter = shop::sheet::Counter::default();
    let (tool, m8) = (model("tulvane-tb-32"), family("marlstead-m8"));
    let found = sale(tool, m8, &[], &[&set], Some(shop()));
    let offer = &found.offers[0];
    assert_eq!(
        offer.buy[0].price,
        Some(money("64.00")),
        "CR8 in the model sheet"
    );
    assert_eq!(offer.buy[0].on_hand, None, "nobody has counted");
    // No number, no price: listed, and left out of the sum.
    assert_eq!((offer.buy[2].number, offer.buy[2].price), (None, None));
    assert_eq!(offer.without_price(), 1);
    assert_eq!(offer.totals.net, money("102.00"));
    // It is listed even for who holds a housing: nobody can say that it is the same.
    let found = sale(tool, m8, &[nose("n30-d6")], &[&set], Some(shop()));
    assert!(
        found.offers[0]
            .buy
            .iter()
            .any(|l| l.part == PartKind::Housing)
    );
    // Two housings without a number may be two kinds.
    let mut other = nose("n30-d6").clone();
    other.housing.number = None;
    let all = [&set];
    let found = sale(tool, m8, &[&other], &all, Some(shop()));
    assert!(
        found.offers[0]
            .buy
            .iter()
            .any(|l| l.part == PartKind::Housing)
    );
}

#[test]
fn tax_is_the_shops() {
    let mut taxed = shop().clone();
    taxed.tax_percent = money("20");
    let all = noses();
    let found = sale(
        model("tulvane-tb-32"),
        family("marlstead-m8"),
        &[],
        &all,
        Some(&taxed),
    );
    let totals = found.offers[0].totals;
    assert_eq!(
        (totals.net, totals.tax, totals.gross),
        (money("156.00"), money("31.20"), money("187.20"))
    );
}

#[test]
fn a_fastener_that_no_set_fits_has_no_list() {
    let found = buys("tulvane-tb-32", "brackwell-b12", &[]);
    assert!(found.held.is_none() && found.offers.is_empty());
}

proptest! {
    /// Holding more never costs more, and what is held is never on the list.
    #[test]
    fn holding_more_never_costs_more(
        held in prop::sample::subsequence(noses(), 0..=10), more in 0..10usize, t in 0..3usize, f in 0..6usize,
    ) {
        let tools: Vec<_> = shelf().models().map(|(_, m)| m).collect();
        let (tool, fastener, all) = (tools[t], families()[f], noses());
        let before = sale(tool, fastener, &held, &all, Some(shop()));
        let mut both = held.clone();
        both.push(all[more]);
        let after = sale(tool, fastener, &both, &all, Some(shop()));
        for offer in &after.offers {
            prop_assert!(!offer.buy.is_empty());
            for line in &offer.buy {
                let of = |n: &NoseSet| match line.part {
                    PartKind::Collet => Some(n.collet.number.clone()),
                    PartKind::Anvil => Some(n.anvil.number.clone()),
                    PartKind::Housing => n.housing.number.clone(),
                };
                prop_assert!(both.iter().all(|n| of(n).as_deref() != line.number));
            }
            let then = before.offers.iter().find(|o| o.set.nose.id == offer.set.nose.id);
            prop_assert!(then.is_none_or(|o| o.totals.net >= offer.totals.net));
        }
        prop_assert!(all.iter().all(|n| n.housing.number.is_some()));
    }
}
