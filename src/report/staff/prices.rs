//! What the recommendation would be with other prices.

use super::sentences;
use crate::report::answer::{Cell, Column, Table};
use crate::report::number::Unit;
use crate::studies::{PriceChange, StaffAnswer, StaffPrice};

/// The table.
pub(super) const PRICES: &str = "other-prices";

/// A price in files.
pub(super) fn key(price: StaffPrice) -> &'static str {
    match price {
        StaffPrice::Pay => "pay",
        StaffPrice::Hire => "hire",
        StaffPrice::Hauler => "hauler",
    }
}

fn price(change: &PriceChange) -> String {
    let what = match change.price {
        StaffPrice::Pay => "an hour of pay",
        StaffPrice::Hire => "a hire beyond the hours",
        StaffPrice::Hauler => "an hour of a hired hauler",
    };
    format!(
        "{what} {}%",
        Unit::Plain.show_difference((change.times - 1.0) * 100.0, 0)
    )
}

/// One line for each price that is lower and higher.
pub(super) fn table(answer: &StaffAnswer) -> Table {
    let mut table = Table::new(
        PRICES,
        vec![
            Column::new("if it costs").left().key("price"),
            Column::new("then recommended").left().key("staffing"),
            Column::new("saves against today's").with_ends("saves"),
        ],
    );
    for change in &answer.prices {
        table
            .row([
                price(change).into(),
                sentences::staffing(answer.results[change.best].staffing).into(),
                match &change.saving {
                    Some(saving) => Cell::estimate(saving, Unit::Money, 0),
                    None => "today's".into(),
                },
            ])
            .marked(answer.best != Some(change.best));
    }
    table
}

/// Which of them change the recommendation, if any does.
pub(super) fn sentence(answer: &StaffAnswer) -> Option<String> {
    let best = answer.best?;
    let others = answer.prices.iter().filter(|change| change.best != best);
    let others: Vec<String> = others
        .map(|change| {
            let staffing = answer.results[change.best].staffing;
            format!("{}: {}", price(change), sentences::staffing(staffing))
        })
        .collect();
    (!others.is_empty()).then(|| {
        format!(
            "With other prices another staffing is recommended: {}.",
            others.join("; ")
        )
    })
}
