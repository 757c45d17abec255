//! The figures of the concrete in drums, counted a second time.

use super::{Tape, count, sum};
use plantday::concrete::WetBy;
use plantday::observe::figure;
use plantday::plant::{Event, MaterialStep, Reject};
use plantday::scenario::Scenario;

fn steps(tape: &Tape, counts: impl Fn(&MaterialStep) -> bool) -> f64 {
    count(
        tape,
        |event| matches!(event, Event::Material { step, .. } if counts(step)),
    )
}

fn amount(tape: &Tape, amount: impl Fn(&MaterialStep) -> f32) -> f64 {
    sum(tape, |event| match event {
        Event::Material { step, .. } => f64::from(amount(step)),
        _ => 0.0,
    })
}

/// All of them; not numbers where they need mixes and the scenario describes none.
pub(super) fn of(scenario: &Scenario, tape: &Tape) -> Vec<(usize, f64)> {
    let on_site = |reasons: &[Reject]| {
        count(
            tape,
            |event| matches!(event, Event::Rejected { why, spot: Some(_), .. } if reasons.contains(why)),
        )
    };
    let below = steps(tape, |s| matches!(s, MaterialStep::BelowStrength { .. }));
    let lost = amount(tape, |s| match s {
        MaterialStep::BelowStrength { lost_psi, .. } => *lost_psi,
        _ => 0.0,
    });
    let cement_lb = amount(tape, |s| match s {
        MaterialStep::DriedUp { cement_lb, .. } => *cement_lb,
        _ => 0.0,
    });
    let fine_lb = amount(tape, |s| match s {
        MaterialStep::DriedUp { fine_lb, .. } => *fine_lb,
        _ => 0.0,
    });
    let wet_by = |cause: WetBy| {
        steps(tape, |s| {
            let (MaterialStep::FoundWet { by } | MaterialStep::WetOnSite { by }) = s else {
                return false;
            };
            *by == cause
        })
    };
    // Every load found too wet has one cause.
    let found = steps(tape, |s| matches!(s, MaterialStep::FoundWet { .. }));
    let causes: f64 = WetBy::ALL.map(wet_by).into_iter().sum();
    if scenario.concrete.material.is_some() {
        assert_eq!(causes, found + on_site(&[Reject::TooWet]));
    }
    let counted = [
        (
            figure::WET_AT_RACK,
            steps(tape, |s| matches!(s, MaterialStep::FoundWet { .. })),
        ),
        (figure::WET_ON_SITE, on_site(&[Reject::TooWet])),
        (figure::STIFF, on_site(&[Reject::TooStiff])),
        (figure::AIR, on_site(&[Reject::Air])),
        (
            figure::OLD,
            on_site(&[Reject::TooOld, Reject::TooManyRevolutions]),
        ),
        (figure::WRONG_MIX, on_site(&[Reject::WrongMix])),
        (
            figure::WATERED,
            steps(tape, |s| matches!(s, MaterialStep::Watered { .. })),
        ),
        (
            figure::RETEMPERED,
            steps(tape, |s| matches!(s, MaterialStep::Retempered { .. })),
        ),
        (
            figure::HEAVY,
            steps(tape, |s| matches!(s, MaterialStep::Heavy { .. })),
        ),
        (figure::CEMENT_LB, cement_lb),
        (figure::FINE_LB, fine_lb),
        (
            figure::DRY_UP_COST,
            dry_up_cost(scenario, cement_lb, fine_lb),
        ),
        (figure::PARTS_DUMPED_YD3, parts_dumped(tape)),
        (figure::BELOW_STRENGTH, below),
        (figure::PSI_LOST, lost / below),
        (figure::WET_BY_HRWR, wet_by(WetBy::UnseenHrwr)),
        (figure::WET_BY_WATER, wet_by(WetBy::AddedWater)),
        (figure::WET_BY_MOISTURE, wet_by(WetBy::Moisture)),
        (figure::WET_BY_COOL, wet_by(WetBy::CoolOrAir)),
        (figure::WET_BY_READING, wet_by(WetBy::Reading)),
    ];
    // Sites turn loads away as too wet or too old whether concrete is computed or not.
    let known = |figure| {
        scenario.concrete.material.is_some() || [figure::WET_ON_SITE, figure::OLD].contains(&figure)
    };
    counted
        .into_iter()
        .map(|(figure, value)| (figure, if known(figure) { value } else { f64::NAN }))
        .collect()
}

/// What dry-ups and the parts dumped for them cost beside whole loads.
pub(super) fn cost(scenario: &Scenario, tape: &Tape) -> f64 {
    let of = |wanted: usize| {
        let figures = of(scenario, tape);
        let found = figures.iter().find(|(figure, _)| *figure == wanted);
        found.map_or(0.0, |(_, value)| *value)
    };
    if scenario.concrete.material.is_none() {
        return 0.0;
    }
    of(figure::DRY_UP_COST) + scenario.money.dumped_per_yd3.units() * of(figure::PARTS_DUMPED_YD3)
}

fn parts_dumped(tape: &Tape) -> f64 {
    amount(tape, |s| match s {
        MaterialStep::PartDumped { yd3 } => *yd3,
        _ => 0.0,
    })
}

fn dry_up_cost(scenario: &Scenario, cement_lb: f64, fine_lb: f64) -> f64 {
    scenario.concrete.material.as_ref().map_or(0.0, |material| {
        let corrections = &material.corrections;
        let cost = cement_lb * corrections.cement_per_lb + fine_lb * corrections.fine_per_lb;
        (cost * 100.0).round() / 100.0
    })
}
