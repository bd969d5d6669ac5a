//! Slips against the truth.

use crate::generator::{Draw, Plan, make};
use crate::{KINDS, read};

/// Slips that happened, that were told, and that were told rightly: within 15 ms.
fn counted(plan: &Plan, draw: &mut Draw) -> [usize; 3] {
    let made = make(plan, draw);
    let reading = read(&made, plan.fastener);
    let mut right = 0;
    for (at, drop) in &made.truth.slips {
        let of = reading.slips.iter().find(|s| (s.at_s - at).abs() < 0.015);
        right += usize::from(of.is_some());
        if of.is_none() {
            println!("{:?}: missed {at:.3} s, {drop:.2} kN", plan.fastener);
        }
    }
    for slip in &reading.slips {
        if !made
            .truth
            .slips
            .iter()
            .any(|(at, _)| (slip.at_s - at).abs() < 0.015)
        {
            println!(
                "{:?}: false {:.3} s, {:.2} kN",
                plan.fastener, slip.at_s, slip.drop_kn.value
            );
        }
    }
    [made.truth.slips.len(), reading.slips.len(), right]
}

fn rates(seed: u64, plan: impl Fn(usize) -> Plan) -> (f64, f64) {
    let mut draw = Draw(seed);
    let mut sum = [0; 3];
    for i in 0..240 {
        for (sum, one) in sum.iter_mut().zip(counted(&plan(i), &mut draw)) {
            *sum += one;
        }
    }
    println!("{sum:?}");
    (sum[2] as f64 / sum[1] as f64, sum[2] as f64 / sum[0] as f64)
}

#[test]
fn slips_are_found_under_three_percent_noise() {
    let (precision, recall) = rates(11, |i| Plan {
        noise: 0.03,
        slips: i % 4,
        ..Plan::good(KINDS[(i % 4) ^ (i / 4 % 4)])
    });
    assert!(precision >= 0.95 && recall >= 0.95, "{precision} {recall}");
}

#[test]
fn no_slip_is_told_where_there_is_none() {
    let mut draw = Draw(12);
    for i in 0..60 {
        for noise in [0.002, 0.03] {
            let plan = Plan {
                noise,
                dry: 0.03,
                ..Plan::good(KINDS[i % 4])
            };
            let made = make(&plan, &mut draw);
            assert_eq!(read(&made, plan.fastener).slips, [], "{i}");
        }
    }
}

/// With few samples the noise itself, not the share of the peak, says what is a fall.
#[test]
fn noise_of_few_samples_is_no_slip() {
    let mut draw = Draw(14);
    let mut told = [0, 0, 0, 0];
    for i in 0..240 {
        let plan = Plan {
            noise: [0.03, 0.05][i % 2],
            samples: [500, 1000][i / 2 % 2],
            ..Plan::good(KINDS[i / 4 % 4])
        };
        let made = make(&plan, &mut draw);
        told[i % 4] += read(&made, plan.fastener).slips.len();
    }
    println!("{told:?}");
    assert_eq!(told, [0; 4]);
}

#[test]
fn the_size_of_a_slip_is_right_within_its_uncertainty() {
    let mut draw = Draw(13);
    let (mut all, mut inside) = (0, 0);
    for i in 0..80 {
        let plan = Plan {
            noise: 0.01,
            slips: 2,
            ..Plan::good(KINDS[i % 4])
        };
        let made = make(&plan, &mut draw);
        let reading = read(&made, plan.fastener);
        for (at, drop) in &made.truth.slips {
            if let Some(slip) = reading.slips.iter().find(|s| (s.at_s - at).abs() < 0.015) {
                all += 1;
                inside += usize::from((slip.drop_kn.value - drop).abs() <= slip.drop_kn.expanded());
            }
        }
    }
    println!("{inside} of {all}");
    assert!(
        all > 100 && inside as f64 >= 0.9 * all as f64,
        "{inside} of {all}"
    );
}

/// A dry screw chatters all along, with teeth of the same size: none of them is a slip of the jaws, and a slip among them stays.
#[test]
fn chatter_of_a_dry_screw_is_no_slip_and_hides_none() {
    // Teeth of 4 to 5.6 % of the peak: some of them large enough for a slip.
    for dry in [0.05, 0.06, 0.07] {
        let plan = |i: usize, slips| Plan {
            noise: 0.005,
            dry,
            slips,
            ..Plan::good(KINDS[i % 4])
        };
        let mut draw = Draw(15);
        let mut told = [0; 3];
        for i in 0..80 {
            told[0] += counted(&plan(i, 0), &mut draw)[1];
            let [truth, _, right] = counted(&plan(i, 2), &mut draw);
            told[1] += truth;
            told[2] += right;
        }
        println!("{dry}: {told:?}");
        // Two teeth that noise makes one may be as large as a slip.
        assert!(told[0] <= 4, "{dry}: {told:?}");
        assert!(20 * told[2] >= 19 * told[1], "{dry}: {told:?}");
    }
}
