//! The concrete in the drum.

use super::super::Concrete;
use super::super::decode::{Fields, Limits, minutes, number};
use super::super::problem::Problems;
use super::super::tree::Node;
use super::empty_weight::Written;
use super::mixes;
use crate::concrete::{RackPractice, Reuse};
use crate::engine::Spread;
use crate::units::{Millis, Volume};

/// The block where nothing is written.
pub(super) fn usual() -> Concrete {
    Concrete {
        age_limit: None,
        rack: None,
        dry_up: usual_dry_up(),
        empty: Spread::Constant(15.0),
        material: None,
        reuse: None,
    }
}

fn usual_dry_up() -> Spread {
    Spread::Triangular {
        low: 6.0,
        mode: 9.0,
        high: 15.0,
    }
}

/// See [`Concrete`] for how it is written.
pub(super) fn concrete(
    node: &Node,
    weights: &mut Written,
    problems: &Problems,
) -> Option<Concrete> {
    let usual = usual();
    let mut fields = Fields::of(node, "concrete block", problems)?;
    let limit = number(Limits::above("minutes", 0.0, 1_440.0));
    let age_limit = fields.maybe("age_limit_min", limit);
    let rack = fields.maybe("rack", rack);
    let empty = fields.optional("empty", minutes, usual.empty);
    let reuse = fields.maybe("reuse", reuse);
    let age_limit = age_limit.map(Millis::from_minutes);
    let material = match fields.node("mixes") {
        Some(_) => Some(mixes::material(&mut fields, age_limit, weights, problems)?),
        None => None,
    };
    fields.finish();
    let (rack, dry_up) = rack.unzip();
    let dry_up = match &material {
        Some(material) => material.corrections.minutes.clone(),
        None => dry_up.unwrap_or(usual.dry_up),
    };
    Some(Concrete {
        age_limit,
        rack,
        dry_up,
        empty,
        material,
        reuse,
    })
}

fn reuse(node: &Node, problems: &Problems) -> Option<Reuse> {
    let mut fields = Fields::of(node, "reuse block", problems)?;
    let usual = Reuse::USUAL;
    let limit = number(Limits::above("minutes", 0.0, 1_440.0));
    let age_limit = fields.optional("age_limit_min", limit, usual.age_limit.minutes());
    // Something fresh always goes on top.
    let most = number(Limits::above("share of the next load", 0.0, 0.9));
    let share = fields.optional("share", most, usual.share);
    fields.finish();
    Some(Reuse {
        age_limit: Millis::from_minutes(age_limit),
        share,
    })
}

fn rack(node: &Node, problems: &Problems) -> Option<(RackPractice, Spread)> {
    let mut fields = Fields::of(node, "rack block", problems)?;
    let share = number(Limits::between("share of loads", 0.0, 1.0));
    let misread = fields.optional("misread", share, 0.04);
    let misread_if_warned = fields.optional("misread_if_warned", share, 0.01);
    let found = fields.optional("found", share, 0.8);
    let room = number(Limits::between("yd³", 0.0, 3.0));
    let dry_up_room = fields.optional("dry_up_room_yd3", room, 0.4);
    let dry_up = fields.optional("dry_up", minutes, usual_dry_up());
    fields.finish();
    let practice = RackPractice {
        misread,
        misread_if_warned,
        found,
        dry_up_room: Volume::from_yd3(dry_up_room),
    };
    Some((practice, dry_up))
}
