//! What the answer says in sentences.

use crate::report::figure::unit;
use crate::report::final_round::{asked_for, decimals, never, short_of, shown, shown_exact};
use crate::report::number::{level, range};
use crate::report::period::{per, runs};
use crate::report::plain_text::capital;
use crate::studies::{Block, Setting, Tuned, Vary};

/// Every parameter with its value, or none for the rule itself.
fn each(
    answer: &Tuned,
    setting: &Setting,
    words: impl Fn(&Vary, usize) -> String,
) -> Option<Vec<String>> {
    let pairs = answer.asked.vary.iter().zip(setting.places.as_ref()?);
    let words = pairs.map(|(vary, at)| words(vary, *at));
    Some(words.collect())
}

/// `time sent early 5 min, last-load cutoff 11 h`, or `rule as it stands`.
pub(super) fn named(answer: &Tuned, setting: &Setting) -> String {
    each(answer, setting, Vary::named).map_or("rule as it stands".into(), |parts| parts.join(", "))
}

/// The same for files, as the scenario writes it: `gates.LastLoadBy.hours 11`, or `as it is written`.
pub(super) fn written(answer: &Tuned, setting: &Setting) -> String {
    let words = |vary: &Vary, at| format!("{} {}", vary.name(), vary.written(at));
    each(answer, setting, words).map_or("as it is written".into(), |parts| parts.join(", "))
}

/// Where the parameters stand in the scenario.
pub(super) fn paths(answer: &Tuned) -> String {
    let vary = answer.asked.vary.iter();
    let parts: Vec<String> = vary
        .map(|vary| format!("{}: {}", vary.label(), vary.name()))
        .collect();
    format!("In the rule of the scenario: {}.", parts.join("; "))
}

/// The decision, first of all that is said.
pub(super) fn decision(answer: &Tuned) -> String {
    let rule = &answer.rule;
    if answer.last.finalists.is_empty() {
        return format!(
            "Stopped before fresh runs could decide: what is here of \"{rule}\" is the search alone, and no recommendation."
        );
    }
    let Some(chosen) = answer.last.chosen else {
        return format!(
            "No setting of \"{rule}\" can be shown to meet {}.",
            asked_for(&answer.asked.targets, &answer.targets)
        );
    };
    let finalist = &answer.last.finalists[chosen];
    let setting = &answer.settings[finalist.setting];
    let figure = &answer.judge;
    let mean = finalist
        .judged
        .mean()
        .map_or("–".into(), |mean| shown(figure, mean, decimals(figure)));
    let meets = if answer.targets.is_empty() {
        String::new()
    } else {
        format!(
            " of those that can be shown to meet {}",
            asked_for(&answer.asked.targets, &answer.targets)
        )
    };
    let when = per(answer.days);
    let to = |vary: &Vary, at| match vary {
        Vary::Number { .. } => format!("{} to {}", vary.label(), vary.shown(at)),
        Vary::Decision { .. } => format!("{} to \"{}\"", vary.label(), vary.shown(at)),
    };
    let Some(settings) = each(answer, setting, to) else {
        if answer.last.as_good.len() + 1 == answer.last.finalists.len() {
            return format!(
                "Leave \"{rule}\" as it stands: nothing tried changes {} in any of {}{meets} ({mean} {when}).",
                figure.label,
                runs(answer.last.decided_on)
            );
        }
        return format!(
            "Leave \"{rule}\" as it stands: no setting tried does better on {}{meets} ({mean} {when}).",
            figure.label
        );
    };
    let worse = answer.last.worse_by_at_most;
    let best = if worse <= 0.0 {
        "the best".to_owned()
    } else if worse <= answer.asked.indifference {
        let within = shown_exact(figure, answer.asked.indifference);
        format!("the best or within {within} of it,")
    } else {
        "the best on average, too close to call against the next,".to_owned()
    };
    // The comma leads over to the targets.
    let best = if meets.is_empty() {
        best.trim_end_matches(',')
    } else {
        &best
    };
    let against = match (finalist.saves, finalist.against_written) {
        (Some(saves), Some(interval)) if interval.is_bounded() => {
            let places = unit(figure).decimals(interval.half_width());
            let show = |value| unit(figure).show_difference(value, places);
            format!(
                "; {} against the rule as it stands ({})",
                show(saves),
                range(interval, show)
            )
        }
        _ => String::new(),
    };
    format!(
        "In \"{rule}\" set {}: {} {mean} {when}, {best}{meets}{against}.",
        settings.join(" and "),
        figure.label
    )
}

/// Right after the decision: how far off missed targets are, and what else could reach them.
pub(super) fn missed(answer: &Tuned) -> Vec<String> {
    let name = |setting: usize| {
        let named = named(answer, &answer.settings[setting]);
        format!("\"{}\" ({named})", answer.rule)
    };
    let asked = (&answer.asked.targets[..], &answer.targets[..]);
    short_of(&answer.last, &answer.reach, asked, name)
}

/// How sure that is, and what does not matter.
pub(super) fn notes(answer: &Tuned) -> Vec<String> {
    let figure = &answer.judge;
    let mut notes = vec![format!(
        "{} settings searched in {} of each ({}); {} finalists decided on in {} that are fresh ({}; random seed {}). All that is said of the \
         final round holds at once with {} confidence, half of the error for the targets and half for the choice.",
        answer.settings.len() - 1,
        runs(answer.searched),
        Block::Search.words(answer.searched),
        answer.last.finalists.len(),
        runs(answer.last.decided_on),
        Block::Final.words(answer.last.decided_on),
        answer.asked.seed,
        level(answer.asked.level)
    )];
    if answer.settings.iter().any(|setting| setting.never) {
        notes.push(
            "Settings that pass over a driver's objection or override the check of hours show what that costs; they are never a \
             recommendation."
                .into(),
        );
    }
    let delta = shown_exact(figure, answer.asked.indifference);
    if answer.last.chosen.is_some() {
        let worse = answer.last.worse_by_at_most;
        let places = unit(figure).decimals(worse);
        notes.push(if worse <= 0.0 {
            let met = if answer.targets.is_empty() {
                ""
            } else {
                " that meets the targets"
            };
            let good = if answer.last.as_good.is_empty() {
                "as good"
            } else {
                "better"
            };
            format!("No other finalist{met} is {good}.")
        } else if worse <= answer.asked.indifference {
            format!("Another finalist may be better by at most {}, which is within {delta} that do not matter.", shown(figure, worse, places))
        } else if !worse.is_finite() {
            "Too close to call against the next best: another finalist differs from it in too few runs to say by how much; more \
             --replications may tell."
                .to_owned()
        } else {
            format!(
                "Too close to call against the next best: another finalist may be better by up to {} ({delta} would not matter); more \
                 --replications may tell.",
                shown(figure, worse, places)
            )
        });
    }
    if !answer.last.as_good.is_empty() {
        let names = answer.last.as_good.iter();
        let names: Vec<String> = names
            .map(|place| {
                named(
                    answer,
                    &answer.settings[answer.last.finalists[*place].setting],
                )
            })
            .collect();
        notes.push(format!(
            "The same {} in every run: {}.",
            figure.label,
            names.join("; ")
        ));
    }
    let (targets, columns) = (&answer.asked.targets, &answer.targets);
    notes.extend(never(&answer.last, targets, columns, answer.asked.level));
    for (vary, effect) in answer.asked.vary.iter().zip(&answer.effects) {
        let name = capital(vary.label());
        if vary.count() < 2 || !effect.reach.is_bounded() {
            continue;
        }
        let places = unit(figure).decimals(effect.reach.half_width());
        let show = |value| unit(figure).show_difference(value, places);
        let (low, high) = (show(effect.reach.low), show(effect.reach.high));
        notes.push(if effect.reach.low == 0.0 && effect.reach.high == 0.0 && effect.targets_untouched {
            format!("{name} may be left alone: within the values tried it changes {} in no run of the search.", figure.label)
        } else if effect.does_not_matter {
            format!("{name} may be left alone: within the values tried it changes {} by {low} to {high} at most, inside ±{delta}.", figure.label)
        } else {
            format!("{name} may matter: moving it from {} changes {} by {low} to {high}.", vary.shown(0), figure.label)
        });
    }
    notes
}
