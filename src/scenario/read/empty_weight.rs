//! How far booked empty weights are off: in `weighing` or in `concrete`, once for everything that weighs a truck.

use super::super::decode::{Fields, Limits, number};
use super::super::defaults;
use super::super::problem::{Problem, Problems};
use super::super::tree::{Node, Span};
use crate::concrete::EmptyWeight;

/// What has been read of it so far, each with its place.
#[derive(Default)]
pub(super) struct Written {
    weighing: Option<(Span, EmptyWeight)>,
    concrete: Option<(Span, EmptyWeight)>,
}

impl Written {
    /// `empty_over_lb` and `empty_sd_lb` of `weighing`.
    pub(super) fn weighing(&mut self, fields: &mut Fields<'_>) {
        let over = number(Limits::between("lb", -10_000.0, 10_000.0));
        let sd = number(Limits::between("lb", 0.0, 10_000.0));
        let weight = EmptyWeight {
            mean_over_lb: fields.usual(&defaults::WEIGHED_OVER_LB, over),
            sd_lb: fields.usual(&defaults::WEIGHED_SD_LB, sd),
        };
        let place = fields
            .place("empty_over_lb")
            .or(fields.place("empty_sd_lb"));
        self.weighing = place.map(|place| (place, weight));
    }

    /// `empty_weight` of `concrete`.
    pub(super) fn concrete(&mut self, fields: &mut Fields<'_>) {
        let weight = fields.maybe("empty_weight", block);
        self.concrete = fields.place("empty_weight").zip(weight);
    }

    /// The one that is written holds for the weigh stations and for the computed loads; the usual one if none is.
    pub(super) fn settled(self, problems: &Problems) -> EmptyWeight {
        if let (Some((there, _)), Some((here, _))) = (&self.weighing, &self.concrete) {
            problems.add::<()>(
                Problem::new(
                    here.clone(),
                    "what empty trucks weigh beyond the books is written twice",
                )
                .label("expected it once: remove `empty_weight` here, or `empty_over_lb` and `empty_sd_lb` in `weighing`")
                .also(there.clone(), "and here")
                .help("a truck has one true weight: the one that is written holds for weigh stations and computed loads"),
            );
        }
        let written = self.weighing.or(self.concrete);
        written.map_or(EmptyWeight::BOOKED, |(_, weight)| weight)
    }
}

fn block(node: &Node, problems: &Problems) -> Option<EmptyWeight> {
    let mut fields = Fields::of(node, "empty-weight block", problems)?;
    let lb = number(Limits::between("lb", 0.0, 10_000.0));
    let weight = EmptyWeight {
        mean_over_lb: fields.usual(&defaults::OVER_LB, lb),
        sd_lb: fields.usual(&defaults::OVER_SD_LB, lb),
    };
    fields.finish();
    Some(weight)
}
