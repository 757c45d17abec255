//! What is said of past tickets.

use crate::report::number::{Unit, count};
use crate::scenario::decode::later;
use crate::scenario::past_tickets::{PastTickets, Stamp};
use crate::studies::tickets::{Cleaned, FEW, FittedLeg, Found, Leg, Reason, Stage, TicketFits};

/// As many of the tickets may lie on another side of a value than the spread has, before it is said that they differ.
const CLOSE: f64 = 0.05;

pub(super) fn leg(leg: Leg) -> &'static str {
    match leg {
        Leg::Loading => "loading",
        Leg::Yard => "slump rack",
        Leg::Travel => "travel",
        Leg::Position => "pulling up",
        Leg::Unloading => "unloading",
        Leg::Wash => "after unloading",
    }
}

pub(super) fn stage(stage: Stage) -> &'static str {
    match stage {
        Stage::Loading => "loading",
        Stage::Yard => "slump rack",
        Stage::Out => "plant to site",
        Stage::SiteWait => "wait on site",
        Stage::Unloading => "unloading",
        Stage::AfterUnloading => "after unloading",
        Stage::Back => "site to plant",
        Stage::Round => "whole round",
    }
}

/// With its plant, if the leg is one of a plant.
pub(super) fn leg_of(fitted: &FittedLeg) -> String {
    match &fitted.plant {
        Some(plant) => format!("{}, {plant}", leg(fitted.leg)),
        None => leg(fitted.leg).to_owned(),
    }
}

/// How well the tickets go with the spread.
pub(super) fn how_well(found: &Found) -> &'static str {
    match found.family {
        None => "always the same",
        Some(_) if found.as_far >= 0.05 => "fits",
        Some(_) if found.gap <= CLOSE => "close",
        Some(_) => "poor",
    }
}

fn plural(n: usize, one: &str, many: &str) -> String {
    match n {
        1 => format!("1 {one}"),
        n => format!("{} {many}", count(n as u64)),
    }
}

pub(super) fn tickets(n: usize) -> String {
    plural(n, "ticket", "tickets")
}

fn days(n: usize) -> String {
    plural(n, "day", "days")
}

/// `20 days from 2026-06-08 to 2026-07-03`, or by the number of the day; nothing if they tell none.
pub(super) fn period(found: &TicketFits, of: &PastTickets) -> Option<String> {
    let (first, last) = found.days?;
    let on = |day: i64| match of.first_date {
        Some(date) => later(date, day).to_string(),
        None => format!("day {}", day + 1),
    };
    Some(match found.worked {
        1 => on(first),
        worked => format!("{} from {} to {}", days(worked), on(first), on(last)),
    })
}

/// What was found, in short.
pub(super) fn decision(found: &TicketFits, of: &PastTickets) -> String {
    let (fitted, not): (Vec<&FittedLeg>, Vec<_>) =
        found.legs.iter().partition(|leg| leg.found.is_some());
    let period = period(found, of).map_or(String::new(), |period| format!(", {period}"));
    let from = format!("{}{period}", tickets(found.cleaned.kept.len()));
    if fitted.is_empty() {
        return format!(
            "Nothing can be fitted to {from}: no leg has {} tickets with both its times.",
            found.question.least
        );
    }
    let poor: Vec<String> = fitted
        .iter()
        .filter(|leg| {
            leg.found
                .as_ref()
                .is_some_and(|found| how_well(found) == "poor")
        })
        .map(|leg| leg_of(leg))
        .collect();
    let mut text = format!(
        "{} of {} fitted to {from}",
        fitted.len(),
        plural(found.legs.len(), "leg", "legs")
    );
    text += &match poor.as_slice() {
        [] => "; every spread is close to its tickets.".to_owned(),
        [one] => format!("; look at {one}: no spread comes close to its tickets."),
        some => format!(
            "; look at {}: no spread comes close to their tickets.",
            some.join(" and ")
        ),
    };
    if !not.is_empty() {
        let not: Vec<String> = not.iter().map(|leg| leg_of(leg)).collect();
        text += &format!(" Too few tickets for {}.", not.join(", "));
    }
    text
}

/// What was left out.
pub(super) fn left_out(cleaned: &Cleaned) -> String {
    let left: usize = cleaned.left_out.iter().sum();
    let mut text = match left {
        0 => format!("All {} are used.", tickets(cleaned.all())),
        _ => {
            let reasons = Reason::ALL.into_iter().zip(cleaned.left_out);
            let reasons = reasons.filter(|(_, n)| *n > 0);
            let reasons = reasons.map(|(why, n)| format!("{} {}", count(n as u64), reason(why)));
            format!(
                "Left out: {} of {}: {}.",
                count(left as u64),
                tickets(cleaned.all()),
                reasons.collect::<Vec<_>>().join(", ")
            )
        }
    };
    let missing = Stamp::ALL.into_iter().zip(cleaned.missing);
    let missing = missing.filter(|(_, n)| *n > 0);
    let missing = missing.map(|(stamp, n)| match n == cleaned.kept.len() {
        true => format!("{} on all", stamp.words()),
        false => format!("{} on {}", stamp.words(), count(n as u64)),
    });
    let missing: Vec<String> = missing.collect();
    if !missing.is_empty() {
        text += &format!(" Times missing: {}.", missing.join(", "));
    }
    text
}

pub(super) fn reason(why: Reason) -> &'static str {
    match why {
        Reason::NoTime => "without any time",
        Reason::Twice => "that stand twice",
        Reason::Backward => "on which time runs backward",
        Reason::TooLong => "with a stage longer than 6 h",
    }
}

/// What a reader has to know before using the numbers.
pub(super) fn warnings(found: &TicketFits, of: &PastTickets) -> Vec<String> {
    let mut said = Vec::new();
    let few = found
        .legs
        .iter()
        .filter(|leg| leg.found.is_some() && leg.n < FEW);
    let few: Vec<String> = few
        .map(|leg| format!("{} ({})", leg_of(leg), leg.n))
        .collect();
    if !few.is_empty() {
        said.push(format!(
            "Fewer than {FEW} tickets: {}. The family of the spread is a guess there.",
            few.join(", ")
        ));
    }
    let none = found.legs.iter().filter(|leg| leg.found.is_none());
    let none: Vec<String> = none
        .map(|leg| format!("{} ({})", leg_of(leg), leg.n))
        .collect();
    if !none.is_empty() {
        said.push(format!(
            "Not fitted, fewer than {} tickets: {}.",
            found.question.least,
            none.join(", ")
        ));
    }
    let hours = found.legs.iter().find_map(|leg| leg.found.as_ref()?.hours);
    if hours.is_some_and(|hours| !hours.kept) {
        said.push(
            "No hour of the day is told apart from another: travel goes without traffic.".into(),
        );
    }
    if of.whole_minutes {
        said.push(
            "Every time is a whole minute. The variance that rounding adds is taken out again, so that spreads are right to about a twentieth; \
             that of a stage of 2 min or less is a guess."
                .into(),
        );
    }
    let no_length: Vec<String> = found
        .legs
        .iter()
        .filter(|leg| leg.no_length > 0)
        .map(|leg| format!("{} ({})", leg_of(leg), leg.no_length))
        .collect();
    if !no_length.is_empty() {
        said.push(format!(
            "Stages of no length are left out of the fit: {}.",
            no_length.join(", ")
        ));
    }
    if !of.days_told {
        said.push("No date and no day: all tickets count as if of one day.".into());
    }
    if !of.ignored.is_empty() {
        said.push(format!("Not read: {}.", of.ignored.join(", ")));
    }
    said
}

/// What stands over a chart of a leg.
pub(super) fn finding(legs: &[&FittedLeg]) -> String {
    let told = legs.iter().filter_map(|leg| {
        let found = leg.found.as_ref()?;
        let of = match (&leg.plant, legs.len()) {
            (Some(plant), 2..) => format!("{plant}: "),
            _ => String::new(),
        };
        Some(match found.family {
            None => format!("{of}it never varies"),
            // Three plants share two lines.
            Some(family) if legs.len() > 1 => format!(
                "{of}{} {}, off by {} at most",
                family.name().to_lowercase(),
                it_fits(found),
                Unit::Share.show(found.gap, 1),
            ),
            Some(family) => format!(
                "{of}{} {}, at most {} of {} on the wrong side of any value",
                family.name().to_lowercase(),
                it_fits(found),
                Unit::Share.show(found.gap, 1),
                tickets(leg.n)
            ),
        })
    });
    let told: Vec<String> = told.collect();
    super::super::plain_text::capital(&told.join("; "))
}

/// How well a family fits, as what it does.
fn it_fits(found: &Found) -> &'static str {
    match how_well(found) {
        "fits" => "fits",
        "close" => "comes close",
        _ => "does not fit",
    }
}

/// On what a leg's numbers rest.
pub(super) fn rests_on(fitted: &FittedLeg) -> String {
    let mut text = format!("{} on {}", tickets(fitted.n), days(fitted.days));
    if let Some(found) = &fitted.found
        && found.family.is_some()
    {
        text += &format!(
            ", largest gap {} points, {}",
            Unit::Share.show(found.gap, 1).trim_end_matches('%'),
            how_well(found)
        );
    }
    if fitted.n < FEW {
        text += ": FEW TICKETS";
    }
    text
}

/// How to read it.
pub(super) const NOTES: [&str; 6] = [
    "Each spread has the likeliest parameters of its family (maximum likelihood). Among lognormal, gamma, Weibull, normal cut at zero, \
     triangular, uniform and exponential the family is the one with the smallest Akaike criterion, corrected for small samples.",
    "Usual lengths (minutes by yd³, by pair of places, by hour) are those at which the luck has a mean of 1, whatever its family.",
    "Largest gap: how far the share of the tickets up to any value lies from the spread's share (Kolmogorov and Smirnov). \"Fits\": tickets \
     that do come from the spread would lie at least as far from it in 5 of 100 files or more (Anderson and Darling's distance, by drawing \
     them). \"Close\": they would not, but the gap is 5 points at most: with thousands of tickets every spread is seen to be only nearly \
     right. \"Poor\": the gap is larger.",
    "Intervals are 95%, from drawing the same tickets again from what was found 199 times; that the family was chosen is not in them.",
    "The slump rack holds all from loaded to leaving: waiting for it and a second time in the bay as well. Pulling up is read from loads that \
     came to a site with no truck before them, first loads of an order left out. What else holds a truck after unloading is in the wash. \
     How long trucks waited on site is told as it was: in a simulation it comes about by itself.",
    "Traffic has one factor for a half hour on all days; half hours with fewer than 40 trips, or not told apart from their neighbors, go with them, and the quietest counts as the \
     empty road. Days with bad traffic as a whole, incidents and bridges are in the luck of single trips.",
];
