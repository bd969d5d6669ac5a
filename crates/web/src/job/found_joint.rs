//! Joints as found: set with the tool as it came.

use calc::Message;
use maud::{Markup, html};
use shop::entry::FoundJointRead;
use shop::job::{Command, Stamped};
use shop::sheet::FastenerFamily;

use super::judged::Judged;
use super::view::View;
use super::{correct, joint_fields, names};
use crate::forms::{FieldErrors, Typed};
use crate::show;

/// The sheet of the joint's fastener, in the revision that it was read against.
pub fn fastener<'a>(v: &View<'a>, joint: &FoundJointRead) -> Option<&'a FastenerFamily> {
    v.desk.shelf.fastener(&(&joint.fastener).into())
}

/// Name of the joint's fastener.
pub fn fastener_name(v: &View, joint: &FoundJointRead) -> String {
    fastener(v, joint).map_or(joint.fastener.id.clone(), |f| f.name.clone())
}

/// Every joint as found, with the way to strike it.
pub fn shown(v: &View) -> Markup {
    html! {
        @for joint in &v.job.found_joints {
            (one(v, joint))
            (correct::strike(v, joint.version))
        }
    }
}

fn one(v: &View, joint: &Stamped<FoundJointRead>) -> Markup {
    let body = &joint.body;
    let criterion = |id: &str| fastener(v, body).and_then(|f| f.criterion(id));
    html! {
        div.result {
            p.what {
                (v.say(&Message::new("found-joint").with("fastener", fastener_name(v, body)))) " "
                small { (v.stamp(joint.at, &joint.by)) }
            }
            p { (show::chip(v.p, body.outcome.into())) " " (v.t(look(v, body))) }
            @for read in &body.readings {
                @if let Some(c) = criterion(&read.criterion) {
                    @let judged = Judged::of_joint(v, c, read);
                    p.what { (c.name) }
                    (judged.show(v, &c.name))
                    (judged.explained(v))
                }
            }
            @if !body.note.is_empty() { p { (body.note) } }
        }
    }
}

/// What the eye says of the joint, in the words of its fastener.
pub fn look(v: &View, joint: &FoundJointRead) -> &'static str {
    let kind = fastener(v, joint).map(|family| family.kind);
    let own = kind.and_then(|kind| names::look(kind, joint.seen));
    own.unwrap_or_else(|| names::seen(joint.seen))
}

fn form_id(fastener: &str) -> String {
    format!("found-joint-{fastener}")
}

/// A form for each fastener that the tool sets, open if it was refused.
pub fn entry(v: &View) -> Markup {
    html! {
        @for (_, family) in v.desk.shelf.settable(v.model) {
            @let id = form_id(&family.id);
            @let form = v.form(&id);
            details.test open[v.is_refused(&id)] {
                summary { (v.say(&Message::new("found-joint-enter").with("fastener", family.name.as_str()))) }
                p.hint { (v.t("found-joint-hint")) }
                (v.joint_caution())
                (v.wrap(&form, "found-joint", html! {
                    input type="hidden" name="fastener" value=(family.id);
                    (joint_fields::fields(v, &form, family))
                }, "button-found-joint"))
            }
        }
    }
}

/// The command of the form.
pub fn parse(typed: &Typed, v: &View, errors: &mut FieldErrors) -> Option<Command> {
    let fastener = typed.get("fastener");
    let known = v
        .desk
        .shelf
        .settable(v.model)
        .find(|(pin, _)| pin.id == fastener);
    let Some((_, family)) = known else {
        errors.add("fastener", Message::new("refuse-pick-fastener"));
        return None;
    };
    Some(Command::ReadFoundJoint {
        fastener: fastener.to_owned(),
        joint: joint_fields::parse(typed, family, errors),
    })
}
