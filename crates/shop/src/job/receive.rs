//! Taking a tool in.

use calc::Message;
use jiff::civil::Date;
use uuid::Uuid;

use super::made_safe::{all_ticked, known_ticks};
use super::refusal::{Refusals, needed, refuse};
use super::{Desk, Job};
use crate::counter::AnewIn;
use crate::entry::{
    Body, Came, PackState, PersonKey, PinRecord, ReceiptAmended, Received, ToolRegistered,
};
use crate::sheet::{Kind, ToolModel};

/// A tool that the shop knows.
#[derive(Clone, Debug, PartialEq)]
pub struct ToolSeen {
    /// Its subject.
    pub tool: Uuid,
    /// Serial.
    pub serial: String,
    /// Model id.
    pub model: String,
    /// Number of a job of it that is still open.
    pub open_job: Option<u32>,
    /// What its counter showed when it was last read here.
    pub counter: Option<u64>,
}

/// What was written down at the counter, as typed.
#[derive(Clone, Debug, PartialEq)]
pub struct ReceiveIn {
    /// Customer; empty if not typed.
    pub customer: Option<PersonKey>,
    /// Model sheet id.
    pub model: String,
    /// Serial.
    pub serial: String,
    /// The tool is new to this shop.
    pub new_tool: bool,
    /// Pull counter.
    pub counter: Option<u64>,
    /// The counter began anew, and why.
    pub anew: AnewIn,
    /// Day of sale.
    pub sold: Option<Date>,
    /// Day of first use.
    pub first_used: Option<Date>,
    /// Complaint.
    pub complaint: String,
    /// Symptoms.
    pub symptoms: Vec<String>,
    /// How many of each kit item came, in the order of the model sheet.
    pub came: Vec<u32>,
    /// Pack.
    pub pack: PackState,
    /// Make-safe ticks.
    pub made_safe: Vec<String>,
    /// Promised for.
    pub due: Option<Date>,
}

/// The entries that begin a job: the tool, if new, and what was received.
///
/// # Errors
/// Every field that stands in the way.
pub fn receive(
    input: &ReceiveIn,
    known: &[ToolSeen],
    job: Uuid,
    number: u32,
    new_tool: Uuid,
    desk: &Desk,
) -> Result<Vec<(Uuid, Body)>, Refusals> {
    let mut refusals = Refusals::new();
    let serial = needed("serial", &input.serial, "receive-serial-missing")
        .map_err(|r| refusals.push(r))
        .unwrap_or_default();
    let complaint = needed("complaint", &input.complaint, "receive-complaint-missing")
        .map_err(|r| refusals.push(r))
        .unwrap_or_default();
    if input.customer.is_none() {
        refusals.push(refuse("customer", Message::new("receive-customer-missing")));
    }
    let model_pin = desk.shelf.newest(Kind::ToolModel, &input.model);
    let model = model_pin.as_ref().and_then(|pin| desk.shelf.model(pin));
    let faults = desk.shelf.fault_models().next();
    let shop = desk.shelf.shops().next();
    if model.is_none() {
        refusals.push(refuse("model", Message::new("receive-model-missing")));
    }
    if faults.is_none() {
        refusals.push(refuse("", Message::new("receive-no-fault-model")));
    }
    if shop.is_none() {
        refusals.push(refuse("", Message::new("receive-no-shop")));
    }
    refuse_days(input.sold, input.first_used, desk.today, &mut refusals);
    if input.due.is_some_and(|due| due < desk.today) {
        refusals.push(refuse("due", Message::new("receive-due-past")));
    }
    if let Some(model) = model {
        refuse_unsafe(input, model, &mut refusals);
    }
    // A plate is read in capitals or not: 7k-0412 is 7K-0412.
    let folded = serial.to_lowercase();
    let has_serial = |t: &&ToolSeen| t.serial.to_lowercase() == folded;
    let same = known
        .iter()
        .filter(has_serial)
        .find(|t| t.model == input.model);
    if let Some(tool) = same {
        if let Some(open) = tool.open_job {
            let message = Message::new("receive-already-here").with("job", open.to_string());
            refusals.push(refuse("serial", message));
        }
    } else if let (Some(other), false) = (known.iter().find(has_serial), input.new_tool) {
        let message = Message::new("receive-other-model").with("model", other.model.as_str());
        refusals.push(refuse("model", message));
    } else if !input.new_tool && !serial.is_empty() {
        let message = Message::new("receive-serial-unknown").with("serial", serial.as_str());
        refusals.push(refuse("serial", message));
    }
    let was = same.and_then(|tool| tool.counter);
    let anew = input.anew.judged(input.counter, was);
    let anew = anew.map_err(|mut r| refusals.append(&mut r));
    let (Some(pin), Some(model), Some((faults_pin, faults)), Some((shop_pin, _)), Some(customer)) =
        (model_pin, model, faults, shop, input.customer.clone())
    else {
        return Err(refusals);
    };
    for symptom in &input.symptoms {
        if faults.symptom(symptom).is_none() {
            let message = Message::new("refuse-symptom").with("symptom", symptom.as_str());
            refusals.push(refuse("symptoms", message));
        }
    }
    if !refusals.is_empty() {
        return Err(refusals);
    }

    let tool = same.map_or(new_tool, |t| t.tool);
    let mut entries = Vec::new();
    if same.is_none() {
        let registered = ToolRegistered {
            serial: serial.clone(),
            model: PinRecord::from(&pin),
            owner: customer.clone(),
        };
        entries.push((tool, registered.into()));
    }
    let received = Received {
        number,
        customer,
        tool,
        // As the tool was first written down, so that it keeps one serial.
        serial: same.map_or(serial, |t| t.serial.clone()),
        model: PinRecord::from(&pin),
        faults: PinRecord::from(&faults_pin),
        shop: PinRecord::from(&shop_pin),
        counter: input.counter,
        counter_was: was,
        counter_anew: anew.unwrap_or_default(),
        sold: input.sold,
        first_used: input.first_used,
        complaint,
        symptoms: input.symptoms.clone(),
        came: came(model, &input.came),
        pack: input.pack,
        made_safe: known_ticks(model, &input.made_safe),
        due: input.due,
    };
    entries.push((job, received.into()));
    Ok(entries)
}

/// Neither day lies ahead, and nobody uses a tool before it is sold.
fn refuse_days(sold: Option<Date>, first_used: Option<Date>, today: Date, refusals: &mut Refusals) {
    if sold.is_some_and(|sold| sold > today) {
        refusals.push(refuse("sold", Message::new("receive-sold-later")));
    }
    match (first_used, sold) {
        (Some(used), _) if used > today => {
            let later = Message::new("receive-first-used-later").with("today", today.to_string());
            refusals.push(refuse("first_used", later));
        }
        (Some(used), Some(sold)) if used < sold => {
            let early = Message::new("receive-first-used-early").with("sold", sold.to_string());
            refusals.push(refuse("first_used", early));
        }
        _ => {}
    }
}

fn refuse_unsafe(input: &ReceiveIn, model: &ToolModel, refusals: &mut Refusals) {
    if !all_ticked(model, &input.made_safe) {
        refusals.push(refuse("made_safe", Message::new("receive-not-safe")));
    }
    if input.pack != PackState::None && model.pack.is_none() {
        refusals.push(refuse("pack", Message::new("receive-pack-not-battery")));
    }
    refuse_pack_and_none(input, model, refusals);
}

/// A pack that was counted has a state, and one with a state was counted: both fields say which.
fn refuse_pack_and_none(input: &ReceiveIn, model: &ToolModel, refusals: &mut Refusals) {
    let lines = model.kit.iter().enumerate().filter(|(_, line)| line.pack);
    let counted = |i: usize| input.came.get(i).copied().unwrap_or(0);
    let lines: Vec<(usize, &str, u32)> = lines
        .map(|(i, line)| (i, line.item.as_str(), counted(i)))
        .collect();
    let came = lines.iter().find(|(_, _, count)| *count > 0);
    let (line, at_pack, at_count) = match (input.pack, came) {
        (PackState::None, Some(line)) => (line, "receive-pack-came", "receive-pack-counted"),
        (PackState::Sound | PackState::Damaged, None) => match lines.first() {
            Some(line) => (line, "receive-pack-none-came", "receive-pack-not-counted"),
            None => return,
        },
        _ => return,
    };
    let (i, item, count) = line;
    let said = |id| Message::new(id).with("item", *item).with("count", *count);
    refusals.push(refuse("pack", said(at_pack)));
    refusals.push(refuse(format!("kit-{}", i + 1), said(at_count)));
}

fn came(model: &ToolModel, counts: &[u32]) -> Vec<Came> {
    let counts = counts.iter().copied().chain(std::iter::repeat(0));
    model
        .kit
        .iter()
        .zip(counts)
        .map(|(item, count)| Came {
            item: item.item.clone(),
            count,
            of: item.count,
            internal: item.internal,
        })
        .collect()
}

impl Job {
    pub(super) fn amend_receipt(
        &self,
        (counter, anew): (Option<u64>, &AnewIn),
        (sold, first_used): (Option<Date>, Option<Date>),
        complaint: &str,
        due: Option<Date>,
        reason: &str,
        desk: &Desk,
    ) -> Result<Vec<Body>, Refusals> {
        let mut refusals = Refusals::new();
        let complaint = needed("complaint", complaint, "receive-complaint-missing")
            .map_err(|r| refusals.push(r))
            .unwrap_or_default();
        let reason = needed("reason", reason, "refuse-reason")
            .map_err(|r| refusals.push(r))
            .unwrap_or_default();
        refuse_days(sold, first_used, desk.today, &mut refusals);
        // A promise that has passed may stand as it is; a new one lies ahead.
        if due != self.received.body.due && due.is_some_and(|due| due < desk.today) {
            refusals.push(refuse("due", Message::new("receive-due-past")));
        }
        let was = self.received.body.counter_was;
        let anew = anew.judged(counter, was);
        let anew = anew.map_err(|mut r| refusals.append(&mut r));
        if !refusals.is_empty() {
            return Err(refusals);
        }
        let amended = ReceiptAmended {
            version: self.received.version,
            counter,
            counter_anew: anew.unwrap_or_default(),
            sold,
            first_used,
            complaint,
            due,
            reason,
        };
        Ok(vec![amended.into()])
    }
}
