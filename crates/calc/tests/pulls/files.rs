//! From the text of a file to what its pulls say.

use calc::pull::reading::{Setup, read_pull};
use calc::pull::recording::{Recorded, Rig, read};

use crate::KINDS;
use crate::generator::{Draw, Plan, csv, make};

#[test]
fn a_file_of_several_pulls_says_what_each_of_them_says() {
    let mut draw = Draw(41);
    for kind in KINDS {
        let made: Vec<_> = (0..4).map(|_| make(&Plan::good(kind), &mut draw)).collect();
        let Recorded::Sound(pulls) = read(csv(&made).as_bytes(), &Rig::default()) else {
            panic!("{kind:?}: not sound");
        };
        assert_eq!(pulls.len(), 4, "{kind:?}");
        for (pull, made) in pulls.iter().zip(&made) {
            let reading = read_pull(pull, &Setup::of(kind)).expect("a pull");
            let ends: Vec<_> = reading.phases.iter().map(|f| f.phase).collect();
            let wanted: Vec<_> = made.truth.ends.iter().map(|(phase, _)| *phase).collect();
            assert_eq!(ends, wanted);
            let energy = reading.features.energy_j.value;
            let off = energy - made.truth.energy_j;
            assert!(
                off.abs() < 0.01 * energy,
                "{kind:?}: {energy}, {off}, {:?}",
                reading.told
            );
        }
    }
}
