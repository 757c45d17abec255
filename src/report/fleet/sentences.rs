//! What was found about a pour's fleet, in sentences.

use crate::report::number::{Unit, count, level, number};
use crate::report::period::runs;
use crate::scenario::LoadOnPaper;
use crate::studies::{Chance, FleetAnswer, FleetSize, PourPlan};
use crate::units::Millis;
use crate::units::measure::Quantity;

/// `8 trucks`.
pub(super) fn trucks(n: u32) -> String {
    format!("{n} truck{}", if n == 1 { "" } else { "s" })
}

/// A time of the order's day: `06:30`, `01:15 +1`.
pub(super) fn clock(answer: &FleetAnswer, at: Millis) -> String {
    let minutes = (at - answer.midnight).minutes().round();
    Millis::from_minutes(minutes.max(0.0)).to_string()
}

fn percent(share: f64) -> String {
    Unit::Share.show(share, 1)
}

/// Minutes with as few digits as they have.
pub(super) fn minutes(span: Millis) -> String {
    let minutes = span.minutes();
    number(minutes, usize::from(minutes.fract() != 0.0))
}

/// `first load 06:00, every 10 min`.
pub(super) fn plan_words(answer: &FleetAnswer, plan: &PourPlan) -> String {
    format!(
        "first load {}, every {} min",
        clock(answer, plan.first),
        minutes(plan.spacing)
    )
}

fn sure(answer: &FleetAnswer, chance: &Chance) -> String {
    format!(
        "at least {} at {} confidence",
        percent(libm::floor(chance.at_least * 1000.0) / 1000.0),
        level(answer.level)
    )
}

/// The decision, first of all that is said.
pub(super) fn decision(answer: &FleetAnswer) -> String {
    let target = level(answer.target);
    let plant = match &answer.backup {
        Some(backup) => format!("{}, backed up by {backup}", answer.plant),
        None => answer.plant.clone(),
    };
    if let Some((plan, size)) = answer.recommended() {
        let finish = size.finished.as_ref().map_or(String::new(), |chance| {
            format!(
                ", is finished by {} in {} of them",
                plan.finish_by.map_or(String::new(), |by| clock(answer, by)),
                percent(chance.share())
            )
        });
        return format!(
            "Send {} from {plant}, {}: \"{}\" goes without a gap longer than {} min in {} of runs ({}){finish}, at {} \
             per {}.",
            trucks(size.trucks),
            plan_words(answer, plan),
            answer.order,
            minutes(answer.tolerated),
            percent(size.no_gap.share()),
            sure(answer, &size.no_gap),
            size.cost_per_yd3
                .mean
                .map_or("–".into(), |cost| Unit::Money.show(cost, 2)),
            Quantity::Volume.unit(),
        );
    }
    if answer.stopped {
        return format!(
            "Stopped before the final answer: no fleet can be recommended for \"{}\" yet.",
            answer.order
        );
    }
    let sizes = answer.shown().sizes.iter().filter(|size| size.is_final);
    let best = sizes
        .reduce(|best, next| {
            if next.no_gap.share() > best.no_gap.share() {
                next
            } else {
                best
            }
        })
        .expect("the final answer has a size");
    format!(
        "No fleet of up to {} from {plant} meets the target of {target} for \"{}\" with {} confidence: the best, {}, goes \
         without a gap longer than {} min in {} of runs ({}). More trucks will not help if the limit lies elsewhere: look at \
         the bay, the spacing and the pump.",
        trucks(answer.shown().sizes.last().expect("there is a size").trucks),
        answer.order,
        level(answer.level),
        trucks(best.trucks),
        minutes(answer.tolerated),
        percent(best.no_gap.share()),
        sure(answer, &best.no_gap),
    )
}

/// The fleet size that a plan's sentences are about: the smallest that meets the target, else the largest.
pub(super) fn spoken_of(plan: &PourPlan) -> &FleetSize {
    let at = plan.smallest.unwrap_or(plan.sizes.len() - 1);
    &plan.sizes[at]
}

/// What the round trip is divided by.
pub(super) fn divisor(hand: &LoadOnPaper) -> &'static str {
    if hand.every() == hand.spacing {
        "÷ spacing"
    } else if hand.every() == hand.least_at_plant {
        "÷ a load at the plant every"
    } else {
        "÷ a load taken on site every"
    }
}

/// The formula, and why simulation says more.
pub(super) fn by_hand(plan: &PourPlan) -> String {
    let hand = &plan.hand;
    let by_hand = hand.trucks();
    let size = spoken_of(plan);
    let formula = format!(
        "By hand: round trip {} min {} {} min{} = {}.",
        minutes(Millis::from_minutes(hand.round_trip().minutes().round())),
        divisor(hand),
        minutes(hand.every()),
        if hand.every() > hand.spacing {
            format!(", longer than the {} min ordered", minutes(hand.spacing))
        } else {
            String::new()
        },
        if i64::from(by_hand) < hand.loads {
            trucks(by_hand)
        } else {
            format!("{}, one for each load", trucks(by_hand))
        }
    );
    let at_hand = plan
        .sizes
        .iter()
        .find(|size| size.trucks == by_hand)
        .map_or(String::new(), |size| {
            format!(
                " With {} the pour stops in {} of runs.",
                trucks(by_hand),
                percent(1.0 - size.no_gap.share())
            )
        });
    let (Some(mean), Some(long)) = (size.sums.mean_round(), size.sums.round(0.9)) else {
        return formula;
    };
    format!(
        "{formula} The formula divides averages of the empty road; simulated round trips, waits and traffic included, take {} min \
         on average and more than {} min one time in ten, and a late truck is late for its next load too.{at_hand}",
        number(mean.minutes(), 0),
        number(long.minutes(), 0),
    )
}

/// On what the answer rests.
pub(super) fn sureness(answer: &FleetAnswer) -> String {
    let alone = if answer.alone {
        "The pour alone: its trucks do nothing else, and its day pays for them all. "
    } else {
        "Among the day's other work: the trucks are those of the plant, which serve other orders too; costs are those of \
         the whole day. "
    };
    let shown = answer.shown();
    let fresh = shown.sizes.iter().find(|size| size.is_final);
    let short = if answer.stopped {
        format!(" Stopped before all {} were done.", count(answer.asked))
    } else {
        String::new()
    };
    format!(
        "{alone}Rule \"{}\", random seed {}. {} for the final answer, {} others for the search.{short}",
        answer.rule,
        answer.seed,
        runs(fresh.map_or(0, |size| size.replications)),
        count(answer.searched),
    )
}

/// Trucks at work hour by hour with the fleet spoken of: hour, mean peak, and what 9 of 10 pours do not exceed.
pub(super) fn hours(answer: &FleetAnswer, plan: &PourPlan) -> Vec<(String, f64, usize)> {
    let sums = &spoken_of(plan).sums;
    (0..crate::observe::HOURS)
        .filter(|hour| sums.mean_peak(*hour) >= 0.05)
        .map(|hour| {
            let from = Millis::HOUR * hour as i64;
            (
                clock(answer, from),
                sums.mean_peak(hour),
                sums.peak(hour, 0.9),
            )
        })
        .collect()
}

/// `06:00 7, 07:00 8 …`: runs of the same number joined.
pub(super) fn hours_in_words(answer: &FleetAnswer, plan: &PourPlan) -> String {
    let hours = hours(answer, plan);
    let mut parts: Vec<String> = Vec::new();
    let mut last = None;
    for (from, _, trucks) in hours.iter().filter(|(_, _, trucks)| *trucks > 0) {
        if last != Some(*trucks) {
            parts.push(format!("{trucks} from {from}"));
            last = Some(*trucks);
        }
    }
    format!(
        "Trucks at work for the pour by hour, enough for 9 pours in 10: {}.",
        if parts.is_empty() {
            "none".into()
        } else {
            parts.join(", ")
        }
    )
}
