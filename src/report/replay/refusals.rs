//! Who was refused for which load, and why: drivers with the same reason at the same moment in one line.

use super::sentences;
use crate::dispatch::Refusal;
use crate::observe::{RefusedCandidate, ToldRefusals};
use crate::report::number::count;
use crate::scenario::Scenario;
use crate::studies::Replay;
use crate::units::Millis;

/// What the list is of.
pub(super) fn heading(told: ToldRefusals) -> &'static str {
    match told {
        ToldRefusals::OfHours => "Refused for hours",
        ToldRefusals::All => "Refused for a load",
    }
}

/// Drivers who are refused for a load from a plant at the same moment for the same reason.
pub(super) struct Line {
    pub(super) at: Millis,
    pub(super) load: String,
    /// `D1, D2 from North`.
    pub(super) who: String,
    pub(super) why: String,
}

/// All refusals, in the order in which they came.
pub(super) fn lines(answer: &Replay, scenario: &Scenario) -> Vec<Line> {
    let of = |refused: &RefusedCandidate| {
        (
            refused.at,
            refused.order,
            refused.number,
            refused.plant,
            refused.reason,
        )
    };
    let name = |refused: &RefusedCandidate| match refused.driver {
        Some(driver) => &scenario.drivers[driver.at()].name[..],
        None => &scenario.trucks[refused.truck.at()].name,
    };
    let same: Vec<Vec<&RefusedCandidate>> = grouped(&answer.refused, of);
    same.into_iter()
        .map(|group| {
            let first = group[0];
            let names: Vec<&str> = group.iter().copied().map(name).collect();
            Line {
                at: first.at,
                load: sentences::load(scenario, first.order, first.number),
                who: format!(
                    "{} from {}",
                    names.join(", "),
                    scenario.plants[first.plant.at()].name
                ),
                why: first.reason.words().into_owned(),
            }
        })
        .collect()
}

/// Those that are alike, in the order of the first of each.
fn grouped<K: Ord>(
    all: &[RefusedCandidate],
    of: impl Fn(&RefusedCandidate) -> K,
) -> Vec<Vec<&RefusedCandidate>> {
    let mut groups: Vec<Vec<&RefusedCandidate>> = Vec::new();
    let mut place = std::collections::BTreeMap::new();
    for refused in all {
        let at = *place.entry(of(refused)).or_insert(groups.len());
        match groups.get_mut(at) {
            Some(group) => group.push(refused),
            None => groups.push(vec![refused]),
        }
    }
    groups
}

/// Every reason with how often it was told, most often first: `31 times home gate, duty window could end before home`.
pub(super) fn summary(answer: &Replay) -> String {
    let mut reasons: Vec<(Refusal, usize)> = grouped(&answer.refused, |refused| refused.reason)
        .into_iter()
        .map(|group| (group[0].reason, group.len()))
        .collect();
    reasons.sort_by_key(|(reason, times)| (std::cmp::Reverse(*times), *reason));
    let told = reasons.into_iter().map(|(reason, times)| {
        let times = match times {
            1 => "once".to_owned(),
            2 => "twice".to_owned(),
            more => format!("{} times", count(more as u64)),
        };
        format!("{times} {}", reason.words())
    });
    told.collect::<Vec<_>>().join("; ")
}
