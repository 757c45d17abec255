//! What was found about a pour's fleet, in sentences.

use crate::report::answer::Cell;
use crate::report::number::{Unit, count, level, number};
use crate::report::period::runs;
use crate::scenario::LoadOnPaper;
use crate::scenario::edit::calm::Trouble;
use crate::statistics::Interval;
use crate::studies::{
    Chance, DriverCall, Estimate, FleetAnswer, FleetSize, JOINT_RISK, PourPlan, TruckMore,
};
use crate::units::measure::Quantity;
use crate::units::{Millis, PlantId};

/// `8 trucks`.
pub(super) fn trucks(n: u32) -> String {
    format!("{n} truck{}", if n == 1 { "" } else { "s" })
}

/// A time of the order's day: `06:30`, `01:15 +1`.
pub(super) fn clock(answer: &FleetAnswer, at: Millis) -> String {
    let minutes = (at - answer.midnight).minutes().round();
    Millis::from_minutes(minutes.max(0.0)).to_string()
}

pub(super) fn percent(share: f64) -> String {
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

/// A cost per volume ordered, as it is told here.
pub(super) fn per_volume(cost: &Estimate) -> Estimate {
    let told = |cost: f64| Quantity::PerVolume.told(cost);
    Estimate {
        mean: cost.mean.map(told),
        interval: Interval {
            low: told(cost.interval.low),
            high: told(cost.interval.high),
        },
    }
}

/// `$117.13`; a dash where there is none.
pub(super) fn money(cost: &Estimate) -> String {
    let told = per_volume(cost).mean;
    told.map_or("–".into(), |cost| Unit::Money.show(cost, 2))
}

/// The unit that costs are told by: `yd³`.
pub(super) fn volume() -> &'static str {
    Quantity::Volume.unit()
}

/// `done 10:15, 4 min behind its plan`; nothing where it is never finished.
fn done(answer: &FleetAnswer, plan: &PourPlan, size: &FleetSize) -> Option<String> {
    let finished = Millis::from_minutes(size.finished_min.mean?);
    let behind = size.behind(plan)?.minutes().round();
    let late = if behind >= 1.0 {
        format!(", {} min behind its plan", count(behind as u64))
    } else {
        String::new()
    };
    Some(format!("done {}{late}", clock(answer, finished)))
}

/// The decision, first of all that is said.
pub(super) fn decision(answer: &FleetAnswer) -> String {
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
        let done = done(answer, plan, size).map_or(String::new(), |done| format!(", {done}"));
        return format!(
            "Send {} from {plant}{}, {}: \"{}\" goes without a gap longer than {} min in {} of runs ({}){finish}{done}, at {} \
             per {}. {}",
            trucks(size.trucks),
            match answer.alone && size.drivers > size.trucks {
                true => format!(", with {} drivers who hand them over", size.drivers),
                false => String::new(),
            },
            plan_words(answer, plan),
            answer.order,
            minutes(answer.tolerated),
            percent(size.no_gap.share()),
            sure(answer, &size.no_gap),
            money(&size.cost_per_yd3),
            volume(),
            beside(answer, plan, size),
        );
    }
    if answer.stopped {
        return format!(
            "Stopped before the final answer: no fleet can be recommended for \"{}\" yet.",
            answer.order
        );
    }
    not_met(answer, &plant)
}

/// What the fewest trucks that do it would change.
fn beside(answer: &FleetAnswer, plan: &PourPlan, size: &FleetSize) -> String {
    let fewest = plan.smallest.map(|at| (at, &plan.sizes[at]));
    let Some((at, fewest)) = fewest.filter(|(_, fewest)| fewest.trucks < size.trucks) else {
        return "No fewer trucks do that.".into();
    };
    let dearer = plan.dearer.iter().find(|(other, _)| *other == at);
    let more = dearer.map_or(String::new(), |(_, more)| {
        if more.interval.low > 0.0 {
            format!(
                "{} {} a {} more",
                costs(fewest.trucks),
                money(more),
                volume()
            )
        } else {
            format!(
                "{} no less, as far as the runs can tell",
                costs(fewest.trucks)
            )
        }
    });
    let done = done(answer, plan, fewest).map_or(String::new(), |done| format!(": {done}"));
    format!("{} would do and {more}{done}.", trucks(fewest.trucks))
}

fn costs(trucks: u32) -> &'static str {
    if trucks == 1 { "costs" } else { "cost" }
}

/// That no fleet does what is asked, and what stands in its way.
fn not_met(answer: &FleetAnswer, plant: &str) -> String {
    let plan = answer.shown();
    let best = plan.spoken_of();
    let finish = best.finished.as_ref().map_or(String::new(), |chance| {
        format!(
            " and is finished by {} in {}",
            plan.finish_by.map_or(String::new(), |by| clock(answer, by)),
            percent(chance.share())
        )
    });
    let limit = bound(&plan.hand).unwrap_or_else(|| match plan.sizes.last() {
        Some(last) if last.trucks == best.trucks => {
            "The largest fleet tried is the best: try more trucks (--trucks-to).".into()
        }
        _ => "More trucks do not help: look at the bay, the spacing and the pump.".into(),
    });
    format!(
        "No fleet of up to {} from {plant} meets the target of {} for \"{}\" with {} confidence: the best, {}, goes without a gap \
         longer than {} min in {} of runs ({}){finish}. {limit}",
        trucks(plan.sizes.last().expect("there is a size").trucks),
        level(answer.target),
        answer.order,
        level(answer.level),
        trucks(best.trucks),
        minutes(answer.tolerated),
        percent(best.no_gap.share()),
        sure(answer, &best.no_gap),
    )
}

/// Why the spacing ordered cannot be held whatever the trucks, if it cannot.
pub(super) fn bound(hand: &LoadOnPaper) -> Option<String> {
    if hand.every() == hand.spacing {
        return None;
    }
    let (what, every) = if hand.every() == hand.least_at_plant {
        ("the plant gives a load", hand.least_at_plant)
    } else {
        ("the site takes a load", hand.least_on_site)
    };
    let (every, spacing) = (minutes(every), minutes(hand.spacing));
    Some(format!(
        "A spacing of {spacing} min cannot be held: {what} every {every} min, and {} saturate it.",
        trucks(hand.trucks())
    ))
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
    let size = plan.spoken_of();
    let formula = format!(
        "By hand: round trip {} min {} {} min = {}.{}",
        minutes(Millis::from_minutes(hand.round_trip().minutes().round())),
        divisor(hand),
        minutes(hand.every()),
        if i64::from(by_hand) < hand.loads {
            trucks(by_hand)
        } else {
            format!("{}, one for each load", trucks(by_hand))
        },
        bound(hand).map_or(String::new(), |bound| format!(" {bound}")),
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
         on average and more than {} min one time in ten.{at_hand}",
        number(mean.minutes(), 0),
        number(long.minutes(), 0),
    )
}

/// What one truck fewer and one more would change in cost, on the same days.
pub(super) fn dearer(plan: &PourPlan) -> Option<String> {
    let cheapest = plan.cheapest?;
    let gaps = |cheapest: usize, other: usize| {
        let more = plan
            .sizes
            .get(cheapest.max(other))
            .and_then(|size| size.truck_more);
        // What is the same in every run needs no word.
        let more = more.filter(|more| more.gap.mean != Some(0.0));
        more.map_or("", |more| {
            let larger_has_more = more.gap.mean > Some(0.0);
            match (
                more.gap_is_the_same_within_luck(),
                larger_has_more == (other > cheapest),
            ) {
                (true, _) => " (gaps: the same within luck)",
                (false, true) => " (gaps: more often)",
                (false, false) => " (gaps: less often)",
            }
        })
    };
    let beside = |at: Option<usize>, words: &str| {
        let other = at?;
        let (_, more) = plan.dearer.iter().find(|(at, _)| *at == other)?;
        let cost = if more.interval.low > 0.0 {
            format!("{} a {} more", money(more), volume())
        } else if more.interval.high < 0.0 {
            format!(
                "{} a {} less",
                Unit::Money.show(-per_volume(more).mean?, 2),
                volume()
            )
        } else {
            "the same as far as the runs can tell".into()
        };
        Some(format!("{words} costs {cost}{}", gaps(cheapest, other)))
    };
    let parts: Vec<String> = [
        beside(cheapest.checked_sub(1), "one truck fewer"),
        beside(Some(cheapest + 1), "one more"),
    ]
    .into_iter()
    .flatten()
    .collect();
    (!parts.is_empty()).then(|| format!("On the same days {}.", parts.join(", ")))
}

/// Chances of long pauses.
pub(super) fn joints(plan: &PourPlan) -> String {
    let size = plan.spoken_of();
    let beyond = |(pause, chance): (&Millis, &Chance)| {
        format!("{} min {}", minutes(*pause), percent(1.0 - chance.share()))
    };
    let chances: Vec<String> = JOINT_RISK
        .iter()
        .zip(&size.no_pause_beyond)
        .map(beyond)
        .collect();
    format!(
        "The longer unloading stands, the more a cold joint is to be feared, sooner on a hot day; how long is up to mix, weather and the \
         engineer. With {} the chance of a pause longer than: {}.",
        trucks(size.trucks),
        chances.join(", ")
    )
}

/// What the gaps that are left come from most, and what of them no truck cures.
pub(super) fn troubles(answer: &FleetAnswer) -> Option<String> {
    let size = answer.shown().spoken_of();
    if size.no_gap.times == size.no_gap.of {
        return None;
    }
    let gap = |chance: &Chance| percent(1.0 - chance.share());
    let spared = |chance: &Chance| chance.share() - size.no_gap.share();
    let most = answer
        .without_trouble
        .iter()
        .max_by(|(_, one), (_, other)| spared(one).total_cmp(&spared(other)))?;
    if spared(&most.1) < 0.01 {
        return Some("None of the kinds of trouble looked at makes the gaps by itself.".into());
    }
    let cure = match most.0 {
        Trouble::Site => ", which no truck cures",
        _ => "",
    };
    Some(format!(
        "What brings the {} with a gap most often: {}{cure}. Without that it would be {}.",
        gap(&size.no_gap),
        most.0.words(),
        gap(&most.1),
    ))
}

/// How many of its loads come from each of two plants, on average; none where there is one.
pub(super) fn loads_by_plant(answer: &FleetAnswer, plan: &PourPlan) -> Option<String> {
    let backup = answer.backup.as_ref()?;
    let sums = &plan.spoken_of().sums;
    let loads = |plant: PlantId| {
        let loads = sums.loads_at.get(plant.at()).copied().unwrap_or(0);
        number(loads as f64 / sums.replications.max(1) as f64, 1)
    };
    let (first, second) = (answer.plant_id, answer.backup_id?);
    Some(format!(
        "With {}, {} loads come from {} and {} from {backup} on average: a truck loads where it would be on site sooner, the line at the \
         bay counted.",
        trucks(plan.spoken_of().trucks),
        loads(first),
        answer.plant,
        loads(second),
    ))
}

/// On what the answer rests.
pub(super) fn sureness(answer: &FleetAnswer) -> String {
    let alone = if answer.alone {
        "The pour alone: its trucks and the plant's crew work for nothing else. "
    } else {
        "Among the day's other work: the trucks are those of the plant, which serve other orders too; the cost is what the day costs more \
         with the pour and these trucks than without the pour and with today's. "
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

/// `4 (3) from 05:00, 9 (6) from 06:00 …`: runs of the same numbers joined.
pub(super) fn hours_in_words(answer: &FleetAnswer, plan: &PourPlan) -> String {
    let mut parts: Vec<String> = Vec::new();
    let mut last = None;
    for hour in &plan.hours {
        let trucks = (hour.enough, hour.needed);
        if trucks != (0, 0) && last != Some(trucks) {
            let from = clock(answer, hour.from);
            parts.push(format!("{} ({}) from {from}", trucks.0, trucks.1));
            last = Some(trucks);
        }
    }
    format!(
        "Trucks at work for the pour by hour, enough for 9 pours in 10 (what the plan itself needs): {}.{}",
        if parts.is_empty() {
            "none".into()
        } else {
            parts.join(", ")
        },
        called(answer, plan).map_or(String::new(), |called| format!(" {called}")),
    )
}

/// `Called in: 5 drivers from 05:50 to 06:50, 5 more from 17:30 to 18:30, who take trucks over.`; none where all are rostered.
fn called(answer: &FleetAnswer, plan: &PourPlan) -> Option<String> {
    let words = |(nth, call): (usize, &DriverCall)| {
        let who = match (nth, call.drivers) {
            (0, 1) => "1 driver".to_owned(),
            (0, drivers) => format!("{drivers} drivers"),
            (_, drivers) => format!("{drivers} more"),
        };
        let (first, last) = (clock(answer, call.first), clock(answer, call.last));
        let when = match first == last {
            true => format!("for {first}"),
            false => format!("from {first} to {last}"),
        };
        let (take, trucks) = match call.drivers {
            1 => ("takes", "a truck"),
            _ => ("take", "trucks"),
        };
        match call.later {
            true => format!("{who} {when}, who {take} {trucks} over"),
            false => format!("{who} {when}"),
        }
    };
    let calls: Vec<String> = plan.calls.iter().enumerate().map(words).collect();
    (!calls.is_empty()).then(|| format!("Called in: {}.", calls.join(", ")))
}

/// How the chance of a gap differs from that with one truck fewer, in the same runs.
pub(super) fn against_fewer(more: &TruckMore) -> String {
    match more.gap_is_the_same_within_luck() {
        true => "same within luck".into(),
        false => Cell::estimate(&more.gap, Unit::Share, 1).signed().words(),
    }
}
