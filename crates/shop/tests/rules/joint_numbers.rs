//! Joints of one setting in numbers.

use shop::entry::{CrewJoint, CrewReading, Outcome, Phase};
use shop::job::Job;
use shop::joint_numbers::JointNumbers;
use shop::sheet::BenchTest;

use crate::bench::{Bench, model, sheets};
use crate::walk::{as_it_should, fit, good_m8, stick_out};

fn m8() -> &'static shop::sheet::FastenerFamily {
    sheets(model("tulvane-tb-32"), "n8", "marlstead-m8").fastener
}

fn crew(collars: &[f64], unit: &str) -> Vec<CrewJoint> {
    let reading = |value: &f64| CrewReading {
        criterion: "collar-diameter".to_owned(),
        value: *value,
        unit: unit.to_owned(),
        raw: value.to_string(),
        expanded: None,
        outcome: Outcome::Accept,
    };
    let joints = collars.iter().map(|value| CrewJoint {
        readings: vec![reading(value)],
    });
    joints.collect()
}

#[test]
fn five_good_joints_alone_prove_55_percent() {
    let joints = crew(&[13.00, 13.01, 13.02, 13.00, 12.99], "mm");
    let numbers = JointNumbers::of_crew(&joints, m8()).expect("five joints");
    assert_eq!(numbers.good, (5, 5));
    // By hand: 0.05^(1/5) = 0.5493.
    assert!((numbers.share.one_sided_lower - 0.05_f64.powf(0.2)).abs() < 1e-9);
    let collar = &numbers.criteria[0];
    // By hand: mean 13.004, squares 0.000016 + 0.000036 + 0.000256 + 0.000016 + 0.000196 = 0.00052 over 4.
    assert!((collar.sample.mean - 13.004).abs() < 1e-9);
    assert!((collar.sample.deviation - 0.000_13_f64.sqrt()).abs() < 1e-9);
    // By hand: the nearer limit is 12.90, 0.104 away: 0.104 / (3 · 0.0114018) = 3.0405.
    let cpk = collar.capability.as_ref().expect("they differ").cpk;
    assert!((cpk.value - 3.0405).abs() < 1e-4, "{cpk:?}");
    // Two-sided factor for five, 95 % in 95 %: 5.079 in the tables by Howe's approximation (from memory), which lies
    // a little above the exact one.
    let between = collar.between.expect("they differ");
    assert!((5.075..5.079).contains(&between.factor), "{between:?}");
    assert_eq!(collar.fits(), Some(true));
    assert!(!collar.is_odd_shaped() && collar.stands_out().is_none());
    assert_eq!(collar.workings().len(), 4);
}

#[test]
fn one_far_off_stands_out_and_a_wide_sample_does_not_fit() {
    let joints = crew(&[13.00, 13.01, 13.02, 13.00, 12.99, 13.11], "mm");
    let numbers = JointNumbers::of_crew(&joints, m8()).expect("six joints");
    assert_eq!(numbers.criteria[0].stands_out(), Some(13.11));
    assert_eq!(numbers.criteria[0].fits(), Some(false));
}

#[test]
fn readings_in_inches_are_brought_to_the_sheet_s_unit() {
    let joints = crew(&[0.512, 0.513], "in");
    let numbers = JointNumbers::of_crew(&joints, m8()).expect("two joints");
    // By hand: 0.5125 in · 25.4 = 13.0175 mm.
    assert!((numbers.criteria[0].sample.mean - 13.0175).abs() < 1e-9);
}

#[test]
fn several_places_on_one_joint_are_one_joint_by_the_worst() {
    let joints = |places: &[f64]| -> Vec<CrewJoint> {
        let joint = |middle: &f64| {
            let values: Vec<f64> = places.iter().map(|off| middle + off).collect();
            let [joint] = [values].map(|values| CrewJoint {
                readings: crew(&values, "mm")
                    .into_iter()
                    .flat_map(|joint| joint.readings)
                    .collect(),
            });
            joint
        };
        [12.97, 13.01, 13.02, 13.00, 12.99]
            .iter()
            .map(joint)
            .collect()
    };
    let of = |places: &[f64]| {
        let joints = joints(places);
        let numbers = JointNumbers::of_crew(&joints, m8()).expect("joints");
        let collar = &numbers.criteria[0];
        (collar.sample, collar.between.expect("differ").factor)
    };
    let (sample, factor) = of(&[0.0]);
    assert_eq!(of(&[0.0; 3]), (sample, factor), "five joints, not fifteen");
    // The nearer limit is 12.90: the lowest of three places counts where there is less room below.
    let joints = joints(&[0.0, -0.01, 0.01]);
    let numbers = JointNumbers::of_crew(&joints, m8()).expect("joints");
    let first = numbers.criteria[0].values[0];
    assert!((first - 12.96).abs() < 1e-9, "{first}");
    assert_eq!(numbers.criteria[0].sample.count, 5);
}

#[test]
fn decimals_are_those_that_were_typed() {
    // 12.97 on a caliper; 0.512 in goes by steps of 0.0254 mm.
    let of = |joints: &[CrewJoint]| {
        JointNumbers::of_crew(joints, m8()).expect("two").criteria[0].decimals
    };
    assert_eq!(of(&crew(&[12.97, 13.0], "mm")), 2);
    assert_eq!(of(&crew(&[0.512, 0.513], "in")), 2);
    let mut precise = crew(&[12.97, 13.0], "mm");
    precise[0].readings[0].raw = "12,970 mm".to_owned();
    assert_eq!(of(&precise), 3);
}

#[test]
fn what_cannot_be_reckoned_is_left_out() {
    assert_eq!(JointNumbers::of_crew(&[], m8()), None);
    let one = JointNumbers::of_crew(&crew(&[13.0], "mm"), m8()).map(|n| n.criteria.len());
    assert_eq!(one, Some(0), "one reading has no spread");
    let alike = crew(&[13.0, 13.0, 13.0], "mm");
    let alike = JointNumbers::of_crew(&alike, m8()).expect("three joints");
    let collar = &alike.criteria[0];
    assert!(collar.capability.is_none() && collar.counts().is_none());
    assert!(collar.normal.is_none() && collar.outlier.is_none());
    // A joint that nobody measured is not called good.
    let bare = [CrewJoint {
        readings: Vec::new(),
    }];
    assert_eq!(
        JointNumbers::of_crew(&bare, m8()).map(|n| n.good),
        Some((0, 1))
    );
}

/// A job whose joints were set at these turns, one after the other.
fn set_at(turns: &[f64]) -> Job {
    let mut bench = Bench::ready("tulvane-tb-32").rebuilt("collet");
    let opens = |test: &&BenchTest| test.opens_adjuster;
    for test in bench.model().bench_tests.iter().filter(opens) {
        bench.does(as_it_should(test, Phase::AsLeft));
    }
    bench.does(fit("marlstead-m8", "06", "n8"));
    bench.does(stick_out(26.2));
    for turns in turns {
        bench.does(good_m8(*turns));
    }
    bench.job()
}

#[test]
fn only_joints_at_the_present_setting_count() {
    let job = set_at(&[6.25, 6.5, 6.5, 6.5]);
    let numbers = JointNumbers::of_set_up(job.set_up().expect("set up"), m8());
    assert_eq!(numbers.map(|n| n.good), Some((3, 3)));
}

#[test]
fn joints_of_several_set_ups_are_one_sample_each_at_its_last_setting() {
    let jobs = [set_at(&[6.25, 6.5, 6.5]), set_at(&[6.25, 6.25, 6.25])];
    let set_ups = || jobs.iter().filter_map(Job::set_up);
    let numbers = JointNumbers::of_set_ups(set_ups(), m8()).expect("joints");
    assert_eq!(
        numbers.good,
        (5, 5),
        "the first joint at 6¼ turns is no more"
    );
    assert!(numbers.criteria.iter().all(|c| c.values.len() == 5));
    assert!(JointNumbers::of_set_ups(set_ups().take(0), m8()).is_none());
}
