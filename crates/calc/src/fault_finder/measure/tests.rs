//! The bounds that the documentation states, held on models drawn anew.

use super::*;

/// Numbers between 0 and 1 from a 64-bit counter (SplitMix64).
fn uniforms(mut state: u64) -> impl FnMut() -> f64 {
    move || {
        state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }
}

#[test]
fn up_to_three_faults_stand_for_any_number() {
    let sizes = Sizes {
        cases: 60,
        causes: 8,
        questions: 6,
    };
    // Largest errors that are allowed where few faults are to be expected, and where many are.
    for (faults_expected, mean, largest) in [(0.3, 0.0005, 0.05), (1.2, 0.01, 0.2)] {
        let rows = approximation(sizes, faults_expected, uniforms(1)).expect("in range");
        let [one, two, three] = rows.as_slice() else {
            panic!("three rows: {rows:?}");
        };
        assert!(three.mean_error < mean, "{three:?}");
        assert!(three.largest_error < largest, "{three:?}");
        assert!(three.same_first * 100 >= sizes.cases * 95, "{three:?}");
        assert!(three.mean_error < two.mean_error && two.mean_error < one.mean_error);
    }
}

#[test]
fn looking_ahead_is_near_the_best_plan_and_better_than_the_rest() {
    let sizes = Sizes {
        cases: 200,
        causes: 4,
        questions: 4,
    };
    let effort = Effort {
        evaluations: 100,
        ..Effort::default()
    };
    let rows = plans(sizes, effort, uniforms(2)).expect("in range");
    let [ahead, one_step, repairs, bits] = rows.as_slice() else {
        panic!("four rows: {rows:?}");
    };
    assert!(ahead.largest_excess < 0.05, "{ahead:?}");
    assert!(ahead.mean_excess < 0.002, "{ahead:?}");
    assert!(one_step.mean_excess < 0.05, "{one_step:?}");
    assert!(ahead.mean_excess < one_step.mean_excess);
    assert!(one_step.mean_excess < repairs.mean_excess.min(bits.mean_excess));
    for row in &rows {
        assert!(row.mean_excess >= -1e-9, "dearer than the best: {row:?}");
    }
}

#[test]
fn sizes_beyond_what_can_be_reckoned_are_refused() {
    let sizes = |causes, questions| Sizes {
        cases: 1,
        causes,
        questions,
    };
    for refused in [sizes(1, 3), sizes(19, 3), sizes(3, 0)] {
        assert!(approximation(refused, 0.3, uniforms(3)).is_err());
        assert!(plans(refused, Effort::default(), uniforms(3)).is_err());
    }
}
