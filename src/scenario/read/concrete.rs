//! The concrete in the drum.

use super::super::Concrete;
use super::super::decode::{Fields, Limits, Shown, minutes, number};
use super::super::defaults;
use super::super::problem::Problems;
use super::super::tree::Node;
use super::mixes;
use crate::concrete::{RackPractice, Reuse};
use crate::engine::Spread;
use crate::units::{Millis, Volume};

/// See [`Concrete`] for how it is written.
pub(super) fn concrete(mut fields: Fields<'_>, problems: &Problems) -> Option<Concrete> {
    let limit = number(Limits::above("minutes", 0.0, 1_440.0));
    // Mixes bring the limit of their table along.
    let own = fields.node("mixes").is_none() || fields.node("age_limit_min").is_some();
    let age_limit = if own {
        fields.usual_or_none(&defaults::AGE_LIMIT, limit)
    } else {
        None
    };
    let rack = fields.off(&defaults::RACK_CHECK, rack);
    let empty = fields.usual(&defaults::EMPTY, minutes);
    let reuse = fields.off(&defaults::REUSED, reuse);
    let age_limit = age_limit.map(Millis::from_minutes);
    fields.by_hand("mixes", |_, _| None::<()>);
    let described = fields.node("mixes").is_some() || fields.are_asked();
    let material = match described {
        true => Some(mixes::material(&mut fields, age_limit, problems)?),
        false => None,
    };
    fields.finish();
    let (rack, dry_up) = rack.map(|CheckedRack(rack, dry_up)| (rack, dry_up)).unzip();
    let dry_up = match &material {
        Some(material) => material.corrections.minutes.clone(),
        None => dry_up.unwrap_or_else(|| defaults::DRY_UP.value.clone()),
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
    let limit = number(Limits::above("minutes", 0.0, 1_440.0));
    let age_limit = fields.usual(&defaults::REUSE_AGE_MIN, limit);
    // Something fresh always goes on top.
    let most = number(Limits::above("share of the next load", 0.0, 0.9));
    let share = fields.usual(&defaults::REUSE_SHARE, most);
    fields.finish();
    Some(Reuse {
        age_limit: Millis::from_minutes(age_limit),
        share,
    })
}

/// What is done at the rack, and the minutes of a dry-up.
struct CheckedRack(RackPractice, Spread);

impl Shown for CheckedRack {}
impl Shown for Reuse {}

fn rack(node: &Node, problems: &Problems) -> Option<CheckedRack> {
    let mut fields = Fields::of(node, "rack block", problems)?;
    let share = number(Limits::between("share of loads", 0.0, 1.0));
    let misread = fields.usual(&defaults::MISREAD, share);
    let misread_if_warned = fields.usual(&defaults::MISREAD_IF_WARNED, share);
    let found = fields.usual(&defaults::FOUND, share);
    let room = number(Limits::between("yd³", 0.0, 3.0));
    let dry_up_room = fields.usual(&defaults::DRY_UP_ROOM_YD3, room);
    let dry_up = fields.usual(&defaults::DRY_UP, minutes);
    fields.finish();
    let practice = RackPractice {
        misread,
        misread_if_warned,
        found,
        dry_up_room: Volume::from_yd3(dry_up_room),
    };
    Some(CheckedRack(practice, dry_up))
}
