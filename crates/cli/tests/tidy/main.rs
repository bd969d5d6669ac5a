//! The house in order: rules that hold for the whole tree, as ordinary tests.
//!
//! A rule is a function from files to what is wrong with them. Beside each stands a test that shows
//! it finding a fault in a small bad sample: a rule that cannot fail holds nothing.

mod absences;
mod dependencies;
mod leftovers;
mod length;
mod links;
mod methods;
mod page_text;
mod reach;
mod tree;

use tree::{File, tree};

/// Fails with every fault, one a line.
#[track_caller]
fn assert_none(faults: &[String]) {
    assert!(faults.is_empty(), "\n{}\n", faults.join("\n"));
}

#[test]
fn dependencies_point_one_way() {
    assert_none(&dependencies::faults(tree()));
}

#[test]
fn what_a_crate_must_not_know_is_not_in_it() {
    assert_none(&absences::faults(tree()));
}

#[test]
fn no_file_is_too_long() {
    assert_none(&length::faults(tree()));
}

#[test]
fn nothing_is_left_over() {
    assert_none(&leftovers::unfinished(tree()));
}

#[test]
fn no_path_of_one_machine() {
    assert_none(&leftovers::machine_paths(tree()));
}

#[test]
fn no_address_of_another_machine() {
    assert_none(&leftovers::addresses(tree()));
}

#[test]
fn every_source_file_is_reached() {
    assert_none(&reach::faults(tree()));
}

#[test]
fn pages_hold_what_they_point_to() {
    assert_none(&links::faults(tree()));
}

#[test]
fn page_text_comes_from_the_catalogue() {
    assert_none(&page_text::faults(tree()));
}

#[test]
fn every_method_names_its_source() {
    assert_none(&methods::faults(tree()));
}
