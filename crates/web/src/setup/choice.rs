//! What is set with what: tool model, fastener, grip code, nose set.

use calc::Message;
use shop::crew::noses_for;
use shop::job::SetUpSheets;
use shop::setting::rule;
use shop::sheet::{FastenerFamily, GripCode, NoseSet, Shelf, ToolModel};

use crate::forms::{FieldErrors, Typed};

/// What was picked, and what there is to pick from. Where there is only one, it is picked.
pub struct Choice<'a> {
    pub models: Vec<&'a ToolModel>,
    pub model: Option<&'a ToolModel>,
    pub fasteners: Vec<&'a FastenerFamily>,
    pub fastener: Option<&'a FastenerFamily>,
    pub code: Option<&'a GripCode>,
    pub noses: Vec<&'a NoseSet>,
    pub nose: Option<&'a NoseSet>,
    pub errors: FieldErrors,
}

impl<'a> Choice<'a> {
    /// As `typed` says.
    pub fn of(typed: &Typed, shelf: &'a Shelf) -> Self {
        let mut errors = FieldErrors::new();
        let models: Vec<&ToolModel> = shelf.models().map(|(_, model)| model).collect();
        let model = pick("model", &models, |m| &m.id, typed, &mut errors);
        let fasteners: Vec<&FastenerFamily> = model.map_or(Vec::new(), |model| {
            let all = shelf.fasteners().map(|(_, fastener)| fastener);
            all.filter(|f| !noses_for(shelf, model, f).is_empty())
                .collect()
        });
        let fastener =
            model.and_then(|_| pick("fastener", &fasteners, |f| &f.id, typed, &mut errors));
        let codes: Vec<&GripCode> = fastener.map_or(Vec::new(), |f| f.codes.iter().collect());
        let code = fastener.and_then(|_| pick("code", &codes, |c| &c.code, typed, &mut errors));
        let noses = model
            .zip(fastener)
            .map_or(Vec::new(), |(m, f)| noses_for(shelf, m, f));
        let nose = fastener.and_then(|_| pick("nose", &noses, |n| &n.id, typed, &mut errors));
        Self {
            models,
            model,
            fasteners,
            fastener,
            code,
            noses,
            nose,
            errors,
        }
    }

    /// The sheets, once all that matters is picked.
    pub fn sheets(&self) -> Option<SetUpSheets<'a>> {
        let (model, fastener, nose) = (self.model?, self.fastener?, self.nose?);
        if !fastener.codes.is_empty() && self.code.is_none() {
            return None;
        }
        Some(SetUpSheets {
            model,
            fastener,
            code: self.code,
            nose,
            rule: rule(model, nose, fastener),
        })
    }

    /// Names and values of what is picked.
    pub fn fields(&self) -> Vec<(&'static str, &'a str)> {
        let fields = [
            ("model", self.model.map(|m| m.id.as_str())),
            ("fastener", self.fastener.map(|f| f.id.as_str())),
            ("code", self.code.map(|c| c.code.as_str())),
            ("nose", self.nose.map(|n| n.id.as_str())),
        ];
        let picked = fields.into_iter();
        picked
            .filter_map(|(name, value)| Some((name, value?)))
            .collect()
    }

    /// The choice and the tool as a query, to be remembered.
    pub fn query(&self, typed: &Typed) -> String {
        let mut query = form_urlencoded::Serializer::new(String::new());
        query.extend_pairs(self.fields());
        if let Some(serial) = super::serial(typed) {
            query.append_pair("tool", serial);
        }
        query.finish()
    }
}

/// The one of `all` that `typed` names under `field`, or the only one.
fn pick<'a, T>(
    field: &str,
    all: &[&'a T],
    id: impl Fn(&'a T) -> &'a str,
    typed: &Typed,
    errors: &mut FieldErrors,
) -> Option<&'a T> {
    let named = typed.filled(field);
    let found = all.iter().copied().find(|one| Some(id(one)) == named);
    match (found, named, all) {
        (Some(found), ..) => Some(found),
        (None, Some(named), _) => {
            let known: Vec<&str> = all.iter().copied().map(&id).collect();
            let named: String = named.chars().take(40).collect();
            let message = Message::new("crew-no-such")
                .with("named", named)
                .with("known", known.join(", "));
            errors.add(field, message);
            None
        }
        (None, None, [only]) => Some(only),
        (None, None, _) => None,
    }
}
