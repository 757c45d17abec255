//! Days, limits, habits, what changes, and prices.

use super::Page;
use super::words::{clock, counted, hours, minutes, plain, plain_1, share, weekdays};
use crate::hours::RuleBook;
use crate::report::number::money as amount;
use crate::report::rule_book::limits;
use crate::scenario::{Changes, Scenario};

pub(super) fn days_and_hours(scenario: &Scenario, page: &mut Page) {
    let period = &scenario.period;
    let mut days = format!(
        "{}, {} {:?}",
        counted(period.days as usize, "day", "days"),
        if period.days == 1 { "a" } else { "from" },
        period.first_day
    );
    if let Some((from, to)) = period.measure {
        days += &format!(
            "; queues and loads are measured from {} to {}",
            hours(from),
            hours(to)
        );
    }
    page.line(&days);
    page.line(&match scenario.rule_book {
        RuleBook::Set(at) => format!(
            "Hours of service: {}",
            limits(&scenario.rule_sets[at as usize])
        ),
        RuleBook::Unlimited => "Hours of service: no limit".into(),
        RuleBook::DutyWindow { window, rest } => format!(
            "Hours of service: no driving later than {} after report, {} off before the next report",
            hours(window),
            hours(rest)
        ),
    });
    let company = &scenario.company;
    let mut habits = vec![
        format!(
            "drivers reckon with the minutes that {} of trips stay within",
            share(company.driver_caution)
        ),
        if company.promise_horizon.0 == 0 {
            "only trucks at a plant are promised".into()
        } else {
            format!(
                "a truck is promised from {} before it is back",
                minutes(company.promise_horizon)
            )
        },
        format!(
            "who is rested later than {} after the planned report is not called",
            hours(company.latest_report)
        ),
    ];
    if let Some(limit) = company.finish_within {
        habits.insert(0, format!("done within {} of report", hours(limit)));
    }
    if let Some(most) = company.days_in_row {
        habits.insert(0, format!("at most {most} days in a row"));
    }
    if !company.stranded_drive_car {
        habits.push("a second person drives the helper's car home".into());
    }
    if company.relief {
        habits.push("a free driver takes over a full drum".into());
    }
    if let Some(limit) = company.no_load_after {
        habits.insert(
            0,
            format!("no load later than {} after report", hours(limit)),
        );
    }
    page.line(&format!("Company: {}", habits.join("; ")));
    page.line(&format!(
        "Yard: {} min from report to the first load, washout {} min, then {} min to release",
        plain_1(scenario.yard.pre_trip.mean()),
        plain_1(scenario.yard.washout.mean()),
        plain_1(scenario.yard.post_trip.mean())
    ));
    concrete(scenario, page);
    changes(&scenario.changes, page);
    for helper in &scenario.helpers {
        page.line(&format!(
            "Helper {}: on call at {} {}–{} {}",
            helper.name,
            scenario.plants[helper.at.at()].name,
            clock(helper.from),
            clock(helper.to),
            weekdays(&helper.days)
        ));
    }
}

fn concrete(scenario: &Scenario, page: &mut Page) {
    let concrete = &scenario.concrete;
    let mut parts = Vec::new();
    if let Some(limit) = concrete.age_limit {
        parts.push(format!(
            "at most {} from batching to the end of discharge",
            minutes(limit)
        ));
    }
    if let Some(rack) = &concrete.rack {
        parts.push(format!(
            "{} of loads made too wet at the rack ({} with a warning), {} of them found there",
            share(rack.misread),
            share(rack.misread_if_warned),
            share(rack.found)
        ));
    }
    page.line(&if parts.is_empty() {
        "Concrete: no age limit, every load as ordered".to_owned()
    } else {
        format!("Concrete: {}", parts.join("; "))
    });
}

fn changes(changes: &Changes, page: &mut Page) {
    let mut parts = Vec::new();
    for (value, what) in [
        (changes.no_show, "of driver days without the driver"),
        (
            changes.rain,
            "of days with rain that cancels outdoor orders",
        ),
        (changes.cancelled, "of orders cancelled"),
    ] {
        if value > 0.0 {
            parts.push(format!("{} {what}", share(value)));
        }
    }
    if changes.not_ready > 0.0 {
        parts.push(format!(
            "{} of sites ready about {} min late",
            share(changes.not_ready),
            plain_1(changes.not_ready_min.mean())
        ));
    }
    page.line(&if parts.is_empty() {
        "Changes on the day: none".to_owned()
    } else {
        format!("Changes on the day: {}", parts.join(", "))
    });
}

pub(super) fn money(scenario: &Scenario, page: &mut Page) {
    let money = &scenario.money;
    let price = |cents: crate::units::Cents| amount(cents.units());
    page.line(&format!(
        "Driver {} an hour, × {} after {} h of a tour; truck {} an hour on duty and {} an hour driven; plant crew {} an \
         open hour; helper {} an hour",
        price(money.pay_per_h),
        plain(money.overtime_factor),
        plain(money.overtime_after.hours()),
        price(money.truck_per_duty_h),
        price(money.truck_per_driven_h),
        price(money.crew_per_open_h),
        price(money.helper_per_h)
    ));
    page.line(&format!(
        "Material {} a yd³, {} a yd³ to get rid of; late load {} and {} a minute beyond its tolerance; undelivered {} a yd³; \
         stranded driver {}",
        price(money.material_per_yd3),
        price(money.dumped_per_yd3),
        price(money.late_per_load),
        price(money.late_per_min),
        price(money.undelivered_per_yd3),
        price(money.stranded)
    ));
}
