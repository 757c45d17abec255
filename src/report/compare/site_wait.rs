//! Waiting on site as an account of its own: chart and table.

use super::charts::left_out;
use super::{same_days, sentences};
use crate::observe::WaitCause;
use crate::report::answer::{Answer, Column, Table};
use crate::report::chart::stacked::{self, Stacked};
use crate::report::number::Unit;
use crate::report::period;
use crate::studies::Comparison;
use serde_json::{Map, Value, json};

/// Minutes waited on site in the mean replication.
fn minutes(answer: &Comparison, rule: usize, cause: WaitCause) -> f64 {
    let profile = &answer.rules[rule].profile;
    profile.site_wait[cause as usize] as f64 / 60_000.0 / profile.replications.max(1) as f64
}

fn total(answer: &Comparison, rule: usize) -> f64 {
    let each = WaitCause::ALL.map(|cause| minutes(answer, rule, cause));
    each.iter().sum()
}

fn because(cause: WaitCause) -> &'static str {
    match cause {
        WaitCause::Early => "they came before their loads were due",
        WaitCause::NotReady => "the site was not set up",
        WaitCause::OnHold => "the pour was on hold",
        WaitCause::Slow => "the site was slower than ordered",
        WaitCause::Bunched => "a load that came late was unloading",
    }
}

/// Table and chart; no chart if no truck ever waits.
pub(super) fn add(answer: &Comparison, to: &mut Answer) {
    let table = table(answer);
    let name = table.name;
    to.tables.push(table);
    if (0..answer.rules.len()).all(|rule| total(answer, rule) == 0.0) {
        left_out(to, "Waiting on site", "no truck waits there under any rule");
        return;
    }
    let base = answer.base;
    let all = total(answer, base);
    let most = WaitCause::ALL
        .into_iter()
        .reduce(|most, next| {
            if minutes(answer, base, next) > minutes(answer, base, most) {
                next
            } else {
                most
            }
        })
        .filter(|_| all > 0.0);
    let title = match most {
        None => format!("Under {} no truck waits on site", sentences::base(answer)),
        Some(most) => format!(
            "Under {} trucks wait {} h on site {}, {} of it because {}",
            sentences::base(answer),
            Unit::Plain.show(all / 60.0, usize::from(all < 600.0)),
            period::per(answer.days),
            Unit::Share.show(minutes(answer, base, most) / all, 0),
            because(most)
        ),
    };
    let bars = answer.rules.iter().enumerate().map(|(place, rule)| {
        let hours = WaitCause::ALL.map(|cause| minutes(answer, place, cause) / 60.0);
        (rule.name.clone(), hours.to_vec())
    });
    let svg = stacked::svg(&Stacked {
        title: title.clone(),
        subtitle: format!(
            "Hours that trucks stand on site before they pull up to unload, all trucks together, average of {}",
            same_days(answer)
        ),
        axis: format!("hours {}", period::per(answer.days)),
        unit: Unit::Plain,
        parts: WaitCause::ALL
            .map(|cause| cause.words().to_owned())
            .to_vec(),
        bars: bars.collect(),
    });
    to.add_chart("site-wait", "Waiting on site", title, svg, name);
}

/// `site_wait.csv`: one line for each rule and cause, minutes in the mean replication.
fn table(answer: &Comparison) -> Table {
    let columns = ["rule", "cause", "words", "minutes", "share_of_minutes"];
    let mut table = Table::new("site_wait", columns.map(Column::file).into());
    for (place, rule) in answer.rules.iter().enumerate() {
        let all = total(answer, place);
        for cause in WaitCause::ALL {
            let minutes = minutes(answer, place, cause);
            table.row([
                rule.name.as_str().into(),
                cause.key().into(),
                cause.words().into(),
                minutes.into(),
                (all > 0.0).then_some(minutes / all).into(),
            ]);
        }
    }
    table
}

/// Minutes waited on site in the mean replication, by key of the cause.
pub(super) fn json(answer: &Comparison, rule: usize) -> Value {
    let by_cause: Map<String, Value> = WaitCause::ALL
        .into_iter()
        .map(|cause| (cause.key().to_owned(), json!(minutes(answer, rule, cause))))
        .collect();
    Value::Object(by_cause)
}
