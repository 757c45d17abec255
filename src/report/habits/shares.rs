//! The shares one after the other, from the first rule to the second.

use super::sentences;
use crate::report::answer::Answer;
use crate::report::chart::differences::{self, Better, Difference, Differences};
use crate::report::habit_words::label;
use crate::report::number::{Unit, level};
use crate::report::period::per;
use crate::report::plain_text::capital;
use crate::studies::{Change, Habits, Valued};

pub(super) fn add_chart(found: &Habits, to: &mut Answer) {
    let row = |name: String, change: Change, begins: f64| Difference {
        name,
        mean: Some(change.mean),
        interval: change.interval,
        begins: Some(begins),
    };
    let mut reached = 0.0;
    let mut rows = Vec::new();
    for result in &found.habits {
        let share = result.of(Valued::Cost).share;
        rows.push(row(capital(label(result.habit)), share, reached));
        reached += share.mean;
    }
    rows.push(row("All together".into(), found.whole(Valued::Cost), 0.0));
    let title = sentences::decision(found);
    let svg = differences::svg(&Differences {
        title: title.clone(),
        subtitle: format!(
            "Each decision's fair share of the change, one after the other from \"{}\" to \"{}\"; lines: {} intervals, for all at once",
            found.from.name,
            found.to.name,
            level(found.asked.level)
        ),
        baseline: if found.from_is_today {
            "today".into()
        } else {
            found.from.name.clone()
        },
        axis: format!("change in cost {}", per(found.days)),
        unit: Unit::Money,
        better: Better::Lower,
        rows,
    });
    to.add_chart("shares", "From one rule to the other", title, svg, "habits");
}
