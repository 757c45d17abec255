//! One bar for each world: what the rule saves there against today's.

use super::sentences;
use crate::observe::Better as FigureBetter;
use crate::report::answer::Answer;
use crate::report::chart::differences::{self, Better, Difference, Differences};
use crate::report::figure::unit;
use crate::report::number::level;
use crate::report::period::per;
use crate::report::plain_text::capital;
use crate::scenario::{Otherwise, Scenario};
use crate::studies::Holds;

pub(super) fn add_chart(found: &Holds, scenario: &Scenario, to: &mut Answer) {
    let assumed = &found.assumed;
    let worlds = std::iter::once(&found.as_assumed).chain(&found.worlds);
    let rows = worlds.map(|world| {
        let words = match &world.otherwise {
            Otherwise::Nothing => "as assumed".into(),
            other => other.words(scenario),
        };
        let name = if world.holds() {
            capital(&words)
        } else {
            format!("{} – does not hold", capital(&words))
        };
        Difference {
            name,
            mean: Some(world.against_base),
            interval: world.interval,
            begins: None,
        }
    });
    let judged = assumed.judged_by();
    let title = sentences::decision(found, scenario);
    let svg = differences::svg(&Differences {
        title: title.clone(),
        subtitle: format!(
            "\"{}\" against \"{}\" if one thing is otherwise, {}farthest from the world as assumed first; bars: {} intervals of chance",
            assumed.rules[found.rule].name,
            assumed.rules[assumed.base].name,
            if found.own().is_empty() {
                ""
            } else {
                "your own worlds first, then "
            },
            level(assumed.level)
        ),
        baseline: if assumed.base_is_today {
            "today".into()
        } else {
            assumed.rules[assumed.base].name.clone()
        },
        axis: format!("{} {}", judged.label, per(assumed.days)),
        unit: unit(judged),
        better: if judged.better == FigureBetter::More {
            Better::Higher
        } else {
            Better::Lower
        },
        rows: rows.collect(),
    });
    to.add_chart(
        "worlds",
        "If the world is not as assumed",
        title,
        svg,
        "worlds",
    );
}
