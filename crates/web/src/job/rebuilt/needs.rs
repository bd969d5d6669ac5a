//! What the planned route takes, before it begins: time, tools, what must be at hand, where to take care.

use calc::Message;
use calc::screw_stop::Hand;
use maud::{Markup, html};
use shop::route::Consumable;

use crate::job::view::View;

/// The needs of the planned route, folded.
pub fn needs(v: &View) -> Markup {
    let Some(route) = v.job.planned(v.model) else {
        return html! {};
    };
    let off: Vec<&str> = route.off.iter().map(|part| part.name.as_str()).collect();
    let joints = route.joints();
    let left = joints.iter().filter(|j| j.thread.hand == Hand::Left);
    let left: Vec<&str> = left.map(|joint| joint.name.as_str()).collect();
    let renewed: Vec<String> = route
        .renewed()
        .iter()
        .map(|part| format!("{} ({})", part.name, part.number))
        .collect();
    let goes_in: Vec<String> = route
        .consumables()
        .iter()
        .map(|c| consumable(v, c))
        .collect();
    let minutes = Message::new("route-minutes").number("minutes", route.minutes(), 0);
    html! {
        details.needs {
            summary { (v.t("route-needs")) " " b { (v.say(&minutes)) } }
            dl.facts {
                (fact(v.t("route-needs-off"), &off))
                (fact(v.t("route-needs-tools"), &route.tools()))
                (fact(v.t("route-needs-hands"), &left))
                (fact(v.t("route-needs-goes-in"), &goes_in))
                (fact(v.t("route-needs-renewed"), &renewed))
            }
            @if !route.cautions().is_empty() {
                p.hint { (v.t("route-needs-cautions")) }
                @for caution in route.cautions() { (v.caution(caution)) }
            }
        }
    }
}

fn fact(name: String, values: &[impl AsRef<str>]) -> Markup {
    html! {
        @if !values.is_empty() {
            dt { (name) }
            dd { ul { @for value in values { li { (value.as_ref()) } } } }
        }
    }
}

fn consumable(v: &View, it: &Consumable) -> String {
    v.say(
        &Message::new("route-consumable")
            .with("name", it.name)
            .with("amount", it.amount)
            .with("at", it.at),
    )
}
