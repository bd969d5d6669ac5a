//! The set-up card.

use calc::screw_stop::{Effect, Rotation, View, Zero};
use paper::model::{Adjustment, Energy, JointLimit, PressureToSet, Setting, SetupCard};
use paper::{PaperError, setup_card, setup_cards};
use words::Words;

use crate::{pdf, sample};

fn set(name: &str, card: &SetupCard) -> pdf::Read {
    let bytes = setup_card(card, Words::english()).expect("the card sets");
    pdf::read(name, &bytes)
}

#[test]
fn it_says_the_setting_whole() {
    let card = set("card", &sample::card());
    card.says(&[
        "Tulvane TB-32",
        "serial 7K-0412",
        "Marlstead M8",
        "code 08",
        "N8",
        "CR8",
        "CR8-S is 3.2 mm shorter",
        "25.2 – 26.8 mm",
        "26.20 ± 0.04 mm",
        "6½ turns",
        "clockwise",
        "shortens the stroke",
        "from fully open (screwed out), seen from the adjuster end",
        "2 mm hex key",
        "Collar diameter 12.90 – 13.12 mm caliper",
        "pack out, trigger pressed once",
        "after 20 joints, at the start of each shift",
        "does not say that any structure is safe",
        "signed off by R. Hale, 24 Nov 2026",
        "Job 1047",
        "9f2c41d7a0be63f5",
        "Page 1 of 1",
    ]);
    assert!(!card.text.contains("counter-clockwise"));
}

/// The left-hand adjuster of the demo shop's air tool, counted from closed: every word turns round.
#[test]
fn a_left_hand_adjuster_reads_the_other_way() {
    let mut card = sample::card();
    card.tool.energy = Energy::Air;
    card.stick_out = None;
    card.setting = Setting::Turns(Adjustment {
        turns: 2.5,
        interval: String::new(),
        inside: "99.85 %".to_owned(),
        rotation: Rotation::CounterClockwise,
        effect: Effect::Lengthens,
        reference: Zero::Closed,
        view: View::NoseEnd,
        approach: None,
        key: String::new(),
    });
    let card = set("card-left", &card);
    card.says(&[
        "2½ turns",
        "counter-clockwise",
        "lengthens the stroke",
        "from fully closed (screwed in), seen from the nose end",
        "air off and bled",
    ]);
    for absent in ["Stick-out", "last move", "Turned with", "interval"] {
        assert!(!card.text.contains(absent), "{absent}\n{}", card.text);
    }
}

#[test]
fn one_turn_is_singular() {
    for (turns, said) in [(1.0, "1 turn "), (0.25, "¼ turn "), (1.125, "1⅛ turns ")] {
        let mut card = sample::card();
        if let Setting::Turns(adjustment) = &mut card.setting {
            adjustment.turns = turns;
        }
        set(&format!("card-{turns}"), &card).says(&[said]);
    }
}

#[test]
fn full_stroke_has_no_turns() {
    let mut card = sample::card();
    card.setting = Setting::FullStroke;
    card.tool.energy = Energy::Pump;
    card.stick_out = None;
    card.nose.look_alike = String::new();
    let card = set("card-full", &card);
    card.says(&["Full stroke", "Adjuster fully open", "lines at zero"]);
    for absent in ["turns", "clockwise", "Look-alike"] {
        assert!(!card.text.contains(absent), "{absent}\n{}", card.text);
    }
}

#[test]
fn a_card_says_for_which_stick_out_it_is_and_what_was_waived() {
    let mut card = sample::card();
    card.waived = "Plates ran out after two joints".to_owned();
    let card = set("card-waived", &card);
    card.says(&[
        "Each millimetre more",
        "Signed off with a reason",
        "ran out",
    ]);
}

#[test]
fn a_card_set_by_force_names_its_pressure() {
    let mut card = sample::card();
    card.setting = Setting::Force;
    card.tool.energy = Energy::Air;
    card.pressure = Some(PressureToSet {
        what: "Pressure at the inlet, at stall, trigger held".to_owned(),
        value: "3.7 bar".to_owned(),
        limits: "3.15 to 4.33 bar.".to_owned(),
    });
    let card = set("card-force", &card);
    card.says(&["By force", "3.7 bar", "at stall", "3.15 to 4.33 bar"]);
    assert!(!card.text.contains("clockwise"), "{}", card.text);
}

#[test]
fn long_names_and_many_limits_stay_whole() {
    let mut card = sample::card();
    card.tool.model = "Tulvane TB-32 long-nose extended-reach cold-weather edition".to_owned();
    card.tool.serial = "7K-0412-".repeat(12);
    card.nose.look_alike = format!(
        "{} Last word of the warning.",
        card.nose.look_alike.repeat(4)
    );
    let limit = card.limits[0].clone();
    for number in 0..20 {
        let mut next = limit.clone();
        next.what = format!("Collar diameter at place {number} of the flange");
        card.limits.push(next);
    }
    let card = set("card-long", &card);
    assert!(
        card.pages.len() > 1,
        "too much for one page goes on on the next"
    );
    card.says(&[
        "cold-weather edition",
        "Last word of the warning.",
        "place 19",
        "pack out",
        &format!("Page 1 of {}", card.pages.len()),
    ]);
    let squeezed = card.text.replace(' ', "");
    assert!(squeezed.contains(&"7K-0412-".repeat(12)), "{squeezed}");
}

#[test]
fn same_input_same_bytes() {
    let set = || setup_card(&sample::card(), Words::english()).expect("the card sets");
    assert!(set() == set());
}

#[test]
fn a_day_outside_the_calendar_is_refused() {
    let mut card = sample::card();
    card.issued.month = 13;
    let refused = setup_card(&card, Words::english());
    assert_eq!(refused, Err(PaperError::Day));
    let message = PaperError::Day.message();
    assert!(!Words::english().say(&message).contains('⟦'));
}

/// The fullest card of the demo shop: its hydraulic tool with a non-break pin. A front that runs over puts
/// what must be checked again on a page that nobody turns to.
#[test]
fn the_fullest_front_is_one_page() {
    let mut card = sample::card();
    card.tool.model = "Skarnholt HP-90".to_owned();
    card.fastener.family = "Brackwell B12N".to_owned();
    card.nose.set = "HP-90 nose for 12.7 mm non-break pins".to_owned();
    card.nose.collet = "HP90-11".to_owned();
    card.nose.look_alike = "HP90-11B: Length: the collet for break-tail pins is longer: 74.0 mm instead of 68.0 mm. It bottoms on the tail and ends the swage too soon.".to_owned();
    if let Setting::Turns(adjustment) = &mut card.setting {
        adjustment.key = "41 mm spanner on the rear stop".to_owned();
    }
    let names = [
        "Collar diameter over the swaged land",
        "Swage reach, end of the land to the flange",
        "Gap between the sheets beside the collar",
    ];
    let limit = card.limits[0].clone();
    card.limits = names
        .map(|name| JointLimit {
            what: name.to_owned(),
            gauge: "caliper, depth gauge".to_owned(),
            ..limit.clone()
        })
        .into();
    card.joint = Some(sample::joint_sketch());
    let card = set("card-fullest", &card);
    assert_eq!(card.pages.len(), 2, "{}", card.pages[1]);
    // How sure the shop is stands on the report.
    assert!(!card.text.contains("99.85"));
}

#[test]
fn the_back_shows_the_joints() {
    let mut card = sample::card();
    card.joint = Some(sample::joint_sketch());
    let card = set("card-back", &card);
    assert_eq!(card.pages.len(), 2);
    assert!(card.pages[0].contains("Page 1 of 2"), "{}", card.pages[0]);
    assert!(card.pages[1].contains("Page 2 of 2"), "{}", card.pages[1]);
    card.says(&[
        "Drawn 2 : 1",
        "Collar larger than 13.12 mm",
        "No second pull",
    ]);
}

/// The scale that the card states holds on the paper itself: 12.90 mm at 2 : 1 is 25.80 mm.
#[test]
fn the_joints_are_to_scale_on_paper() {
    let mut card = sample::card();
    card.joint = Some(sample::joint_sketch());
    let bytes = setup_card(&card, Words::english()).expect("the card sets");
    // The good joint stands in the left third of the back.
    let seen = pdf::Raster::of("card-scale", &bytes, 2, (0.0, 25.0, 68.0, 60.0));
    let edges = seen.extents("#5aa877").expect("the collar has green edges");
    let near = |measured: f64, stated: f64| {
        // A dot of the raster at either end.
        assert!(
            (measured - stated).abs() < 0.1,
            "{measured} mm, not {stated} mm"
        );
    };
    near(edges.right - edges.left, 2.0 * 13.12);
    // Inside the edges lies the land, as wide as the lower limit.
    let land = seen
        .gap("#5aa877")
        .expect("the land lies between the edges");
    near(land, 2.0 * 12.90);
    let strip = seen
        .extents("#8fc3a0")
        .expect("the strip is green between the limits");
    near(strip.bottom - strip.top, 2.0 * (1.5 - 0.7));
    // The land of a good joint ends in the middle of the limits.
    near(edges.bottom, f64::midpoint(strip.top, strip.bottom));
}

/// A short card, one with a back, one that runs over: each is what it is alone.
#[test]
fn many_cards_stand_in_one_file() {
    let mut cards = vec![sample::card(), sample::card(), sample::card()];
    cards[1].job = "1048".to_owned();
    cards[1].joint = Some(sample::joint_sketch());
    cards[2].job = "1049".to_owned();
    cards[2].limits = vec![cards[2].limits[0].clone(); 60];
    let bytes = setup_cards(&cards, Words::english()).expect("the cards set");
    assert!(bytes == setup_cards(&cards, Words::english()).expect("the cards set"));
    let all = pdf::read("cards", &bytes);
    let mut pages = all.pages.iter();
    for (at, card) in cards.iter().enumerate() {
        let alone = set(&format!("cards-{at}"), card);
        for page in &alone.pages {
            assert_eq!(pages.next(), Some(page), "card {at}");
        }
    }
    assert_eq!(pages.next(), None);
    assert_eq!(setup_cards(&[], Words::english()), Err(PaperError::Nothing));
}

/// A link as long as they come: the code is on the back, whole, whether or not joints are drawn there.
#[test]
fn the_link_is_a_code_that_is_read_back() {
    let link = "http://the-tool-store-of-fennholt:4517/setup?model=tulvane-tb-32&fastener=marlstead-m8\
                &code=08&nose=n8&tool=7K-0412&day=2026-11-25&n=12&sig=0123456789abcdef0123456789abcdef";
    for (name, joint) in [
        ("card-link", Some(sample::joint_sketch())),
        ("card-link-alone", None),
    ] {
        let mut card = sample::card();
        card.joint = joint;
        card.link = Some(link.to_owned());
        let bytes = setup_card(&card, Words::english()).expect("the card sets");
        let read = pdf::read(name, &bytes);
        read.says(&["Page 2 of 2", "Scan to set it again"]);
        let dots = pdf::Raster::of(name, &bytes, 2, (0.0, 0.0, 210.0, 148.0));
        let mut image =
            rqrr::PreparedImage::prepare_from_greyscale(dots.width(), dots.height(), |x, y| {
                dots.grey(x, y)
            });
        let codes = image.detect_grids();
        assert_eq!(codes.len(), 1, "one code is found");
        assert_eq!(codes[0].decode().expect("the code is whole").1, link);
    }
}
