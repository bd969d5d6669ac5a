//! How a stick-out of the job lies to its stack, and what explains it where it gives no setting.

use calc::stick_out_causes::Difference;
use maud::{Markup, html};
use shop::entry::StickOutRead;
use shop::grip::{PinsRead, contradiction, explanations, stack_of};
use shop::job::{SetUp, SetUpSheets};

use super::stack;
use super::view::View;
use crate::show;

/// How the stick-out lies to the stack, where they contradict each other.
pub fn against_stack(
    v: &View,
    set_up: &SetUp,
    s: &SetUpSheets,
    read: &StickOutRead,
) -> Option<Difference> {
    contradiction(s, &read.readings, stack_of(set_up, read), &v.desk)
}

/// Beside the answer: a line where the stack fits; the ranked explanations where `no_setting`.
pub fn beside(
    v: &View,
    set_up: &SetUp,
    s: &SetUpSheets,
    read: &StickOutRead,
    no_setting: bool,
) -> Markup {
    let under = stack_of(set_up, read);
    html! {
        @if let Some(under) = under { (stack::shown(v, under, s.fastener)) }
        @if no_setting { (ranked(v, set_up, s, read)) }
        @else if under.is_some() { p.hint { (v.t("stack-agrees")) } }
    }
}

fn ranked(v: &View, set_up: &SetUp, s: &SetUpSheets, read: &StickOutRead) -> Markup {
    let under = stack_of(set_up, read);
    let pins = PinsRead::of(read, under, &v.desk);
    let found = pins.and_then(|pins| Some((explanations(s, &pins, under)?, pins.values_mm)));
    html! {
        @if let Some((found, values_mm)) = found { (show::explanations(v.p, &found, &values_mm)) }
    }
}
