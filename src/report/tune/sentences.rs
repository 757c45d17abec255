//! What the answer says in sentences.

use crate::observe::{Better, Column, FigureUnit};
use crate::report::compare::{period, replications, unit};
use crate::studies::{Setting, Tuned};

/// A value of a figure with its unit.
pub(super) fn shown(column: &Column, value: f64, decimals: usize) -> String {
    unit(column).show(value, decimals)
}

/// Decimals that tell values of a figure apart on a screen.
pub(super) fn decimals(column: &Column) -> usize {
    match column.unit {
        FigureUnit::Share => 1,
        _ => column.decimals,
    }
}

/// `early_min 5, gates.LastLoadBy.hours 11`, or `as it is written`.
pub(super) fn named(answer: &Tuned, setting: &Setting) -> String {
    let Some(values) = &setting.values else {
        return "as it is written".into();
    };
    let parts = answer.asked.vary.iter().zip(values);
    let parts: Vec<String> = parts
        .map(|(vary, value)| format!("{} {value}", vary.parameter.name()))
        .collect();
    parts.join(", ")
}

/// `share of loads late at most 15.0 %`, one for each target.
pub(super) fn targets(answer: &Tuned) -> String {
    let pairs = answer.asked.targets.iter().zip(&answer.targets);
    let parts: Vec<String> = pairs
        .map(|(target, column)| {
            let side = match column.better {
                Better::More => "at least",
                _ => "at most",
            };
            let places = decimals(column).max(1);
            format!(
                "{} {side} {}",
                column.label,
                shown(column, target.bound, places)
            )
        })
        .collect();
    parts.join(" and ")
}

/// The decision, first of all that is said.
pub fn decision(answer: &Tuned) -> String {
    let rule = &answer.rule;
    if answer.finalists.is_empty() {
        return format!(
            "Stopped before fresh replications could decide: what is here of \"{rule}\" is the search alone, and no recommendation."
        );
    }
    let Some(chosen) = answer.chosen else {
        return format!(
            "No setting of \"{rule}\" is shown to meet {}.",
            targets(answer)
        );
    };
    let finalist = &answer.finalists[chosen];
    let setting = &answer.settings[finalist.setting];
    let figure = &answer.judge;
    let mean = finalist
        .judged
        .mean()
        .map_or("–".into(), |mean| shown(figure, mean, decimals(figure)));
    let meets = if answer.targets.is_empty() {
        String::new()
    } else {
        format!(" of those that meet {}", targets(answer))
    };
    let when = period(answer.days);
    let Some(values) = &setting.values else {
        if answer.as_good.len() + 1 == answer.finalists.len() {
            return format!(
                "Leave \"{rule}\" as it is written: nothing tried changes {} in any of {}{meets} ({mean} {when}).",
                figure.label,
                replications(answer.decided_on)
            );
        }
        return format!(
            "Leave \"{rule}\" as it is written: no setting tried does better on {}{meets} ({mean} {when}).",
            figure.label
        );
    };
    let worse = answer.worse_by_at_most;
    let best = if worse <= 0.0 {
        "the best".to_owned()
    } else if worse <= answer.asked.indifference {
        let within = shown_exact(figure, answer.asked.indifference);
        format!("the best or within {within} of it,")
    } else {
        "the best mean, not yet told apart from the next,".to_owned()
    };
    // The comma leads over to the targets.
    let best = if meets.is_empty() {
        best.trim_end_matches(',')
    } else {
        &best
    };
    let pairs = answer.asked.vary.iter().zip(values);
    let settings: Vec<String> = pairs
        .map(|(vary, value)| format!("{} to {value}", vary.parameter.name()))
        .collect();
    let against = match (finalist.saves, finalist.against_written) {
        (Some(saves), Some(interval)) if interval.is_bounded() => {
            let places = unit(figure).decimals(interval.half_width());
            let show = |value| unit(figure).show_difference(value, places);
            format!(
                "; {} against the rule as written, {} to {}",
                show(saves),
                show(interval.low),
                show(interval.high)
            )
        }
        _ => String::new(),
    };
    format!(
        "Set {} of \"{rule}\": {} {mean} {when}, {best}{meets}{against}.",
        settings.join(", "),
        figure.label
    )
}

/// How sure that is, and what does not matter.
pub fn notes(answer: &Tuned) -> Vec<String> {
    let figure = &answer.judge;
    let level = crate::report::compare::percent(answer.asked.level);
    let mut notes = vec![format!(
        "{} settings searched in {}; {} finalists decided on in {} that are fresh (seed {}). All that is said of the final holds at \
         once with {level} % confidence, half of the error for the targets and half for the choice.",
        answer.settings.len() - 1,
        replications(answer.searched),
        answer.finalists.len(),
        replications(answer.decided_on),
        answer.asked.seed
    )];
    let delta = shown_exact(figure, answer.asked.indifference);
    if answer.chosen.is_some() {
        let worse = answer.worse_by_at_most;
        let places = unit(figure).decimals(worse);
        notes.push(if worse <= 0.0 {
            let met = if answer.targets.is_empty() {
                ""
            } else {
                " that meets the targets"
            };
            let good = if answer.as_good.is_empty() {
                "as good"
            } else {
                "better"
            };
            format!("No other finalist{met} is {good}.")
        } else if worse <= answer.asked.indifference {
            format!("Another finalist may be better by at most {}, which is within {delta} that do not matter.", shown(figure, worse, places))
        } else {
            format!(
                "Not told apart from the next best: another finalist may be better by up to {} ({delta} would not matter); more \
                 --replications may tell.",
                shown(figure, worse, places)
            )
        });
    }
    if !answer.as_good.is_empty() {
        let names = answer.as_good.iter();
        let names: Vec<String> = names
            .map(|place| named(answer, &answer.settings[answer.finalists[*place].setting]))
            .collect();
        notes.push(format!(
            "The same {} in every replication: {}.",
            figure.label,
            names.join("; ")
        ));
    }
    notes.extend((0..answer.targets.len()).filter_map(|target| super::never::note(answer, target)));
    for (vary, effect) in answer.asked.vary.iter().zip(&answer.effects) {
        let name = vary.parameter.name();
        if vary.values.len() < 2 || !effect.reach.is_bounded() {
            continue;
        }
        let places = unit(figure).decimals(effect.reach.half_width());
        let show = |value| unit(figure).show_difference(value, places);
        let (low, high) = (show(effect.reach.low), show(effect.reach.high));
        notes.push(if effect.reach.low == 0.0 && effect.reach.high == 0.0 && effect.targets_untouched {
            format!("{name} may be left alone: within the values tried it changes {} in no replication of the search.", figure.label)
        } else if effect.does_not_matter {
            format!("{name} may be left alone: within the values tried it changes {} by {low} to {high} at most, inside ±{delta}.", figure.label)
        } else {
            format!("{name} may matter: against {} it changes {} by {low} to {high}.", vary.values[0], figure.label)
        });
    }
    notes
}

/// An amount as it was given.
pub(super) fn shown_exact(column: &Column, value: f64) -> String {
    let places = (0..6)
        .find(|n| {
            let scaled = value * libm::pow(10.0, f64::from(*n));
            (scaled - libm::round(scaled)).abs() < 1e-9
        })
        .unwrap_or(6) as usize;
    match column.unit {
        FigureUnit::Share => shown(column, value, places.saturating_sub(2)),
        _ => shown(column, value, places),
    }
}
