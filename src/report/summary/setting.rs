//! Days, limits, habits, what changes, and prices.

use super::Page;
use super::words::{
    clock, counted, hours, many, minutes, money_for, much, plain, plain_1, share, weekdays,
};
use crate::hours::RuleBook;
use crate::report::number::money as amount;
use crate::report::rule_book::limits;
use crate::scenario::{Changes, Money, Revenue, Scenario};
use crate::units::measure::{self, Quantity};
use crate::units::{Cents, Millis, Rate};

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
    });
    let company = &scenario.company;
    let mut habits = vec![
        format!(
            "drivers reckon with the minutes that {} of trips stay within",
            share(company.driver_caution)
        ),
        if company.promise_horizon.0 == 0 {
            "only trucks at a plant get a next load".into()
        } else {
            format!(
                "a truck gets its next load from {} before it is back",
                minutes(company.promise_horizon)
            )
        },
        format!(
            "a driver rested later than {} after the planned report is not called in",
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
    if (scenario.rules.iter()).any(|rule| rule.shift.spare().is_some()) {
        let off = if company.call_off {
            " and called off at midnight if cancellations leave no work"
        } else {
            ""
        };
        let at = clock(company.call_time);
        habits.push(format!("drivers are called in at {at} the day before{off}"));
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
        "Plant yard: {} min from report to the first load, washout {} min, then {} min to off duty",
        plain_1(scenario.yard.pre_trip.mean()),
        plain_1(scenario.yard.washout.mean()),
        plain_1(scenario.yard.post_trip.mean())
    ));
    concrete(scenario, page);
    changes(&scenario.changes, page);
    if let Some(weighing) = &scenario.weighing {
        page.line(&format!(
            "Trucks of plants without a truck scale weigh {} more than the books say, give or take {}; overweight at an \
             open weigh station, one is held for about {} min",
            much(Quantity::Weight, scenario.empty_weight.mean_over_lb),
            much(Quantity::Weight, scenario.empty_weight.sd_lb),
            plain_1(weighing.held.mean())
        ));
        if weighing.goes_round > 0.0 {
            page.line(&format!(
                "Of the loads that no truck scale has weighed, {} detour around a weigh station that is open on their way: shown for what it \
                 costs, no advice",
                super::words::share(weighing.goes_round)
            ));
        }
    }
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
    if concrete.material.is_some() {
        return; // has a section of its own
    }
    let mut parts = Vec::new();
    if let Some(limit) = concrete.age_limit {
        parts.push(format!(
            "at most {} from batching to the end of unloading",
            minutes(limit)
        ));
    }
    if let Some(rack) = &concrete.rack {
        parts.push(format!(
            "{} of loads made too wet at the slump rack ({} with a warning), {} of them found there",
            share(rack.misread),
            share(rack.misread_if_warned),
            share(rack.found)
        ));
    }
    if let Some(reuse) = &concrete.reuse {
        let words = super::concrete::reused(reuse);
        parts.push(format!("what comes back is {words}"));
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
        (changes.absent, "of driver days off"),
        (changes.empty_seats, "of drivers' seats empty"),
        (
            changes.rain,
            "of days with rain that cancels outdoor orders",
        ),
        (changes.cancelled, "of orders canceled"),
    ] {
        if value > 0.0 {
            parts.push(format!("{} {what}", share(value)));
        }
    }
    if changes.not_ready > 0.0 {
        let told = if changes.phones_ahead > 0.0 {
            format!(
                " ({} of them telephone {} min ahead)",
                share(changes.phones_ahead),
                plain(changes.phones_ahead_min)
            )
        } else {
            String::new()
        };
        parts.push(format!(
            "{} of sites ready about {} min late{told}",
            share(changes.not_ready),
            plain_1(changes.not_ready_min.mean())
        ));
    }
    if changes.rain_slows > 1.0 {
        parts.push(format!(
            "trips × {} when it rains",
            plain(changes.rain_slows)
        ));
    }
    if let Some(pace) = &changes.pace {
        parts.push(format!(
            "crews that take × {} of their time, more or less by {}",
            plain_1(pace.mean()),
            share(pace.cv())
        ));
    }
    if changes.hold > 0.0 {
        parts.push(format!(
            "{} of pours that stop once for about {} min",
            share(changes.hold),
            plain_1(changes.hold_min.mean())
        ));
    }
    if changes.returned > 0.0 {
        parts.push(format!(
            "{} of orders need about {} {} less in the end",
            share(changes.returned),
            plain_1(Quantity::Volume.told(changes.returned_yd3.mean())),
            Quantity::Volume.unit()
        ));
    }
    if changes.balance > 0.0 {
        parts.push(format!(
            "{} of orders call in about {} {} more when all but the last load are on site",
            share(changes.balance),
            plain_1(Quantity::Volume.told(changes.balance_yd3.mean())),
            Quantity::Volume.unit()
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
    let rate = |rate: Rate| money_for(Quantity::PerVolume, rate);
    page.line(&format!(
        "Driver {} an hour, × {} after {} h of a shift; truck {} an hour on duty and {} an hour driven; plant crew {} an \
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
        "Material {}, {} to get rid of; late load {} and {} a minute beyond its tolerance; undelivered {}; \
         stranded driver {}",
        rate(money.material_per_yd3),
        rate(money.dumped_per_yd3),
        price(money.late_per_load),
        price(money.late_per_min),
        rate(money.undelivered_per_yd3),
        price(money.stranded)
    ));
    let extras = extras(money);
    if !extras.is_empty() {
        page.line(&format!("Pay and costs on top: {}", extras.join("; ")));
    }
    page.line(&format!(
        "A minute without a first load {}, of a gap in a pour {}, of a load too early {}, of an order moved {}; a pour broken off {}; \
         a load below strength {}; a truck waiting outside {}",
        price(money.first_late_per_min),
        price(money.gap_per_min),
        price(money.early_per_min),
        price(money.moved_per_min),
        price(money.broken_pour),
        price(money.below_strength),
        price(money.outside_per_load),
    ));
    let revenue = &money.revenue;
    page.line(&format!(
        "Sale price, lost where concrete is not placed: {}; {} a minute on site beyond {} min {}; {} for an order under {}; \
         {} of customers lost when their order is moved",
        prices(revenue),
        price(revenue.unloading_per_min),
        many(Quantity::PerVolume, revenue.unloading_min_per_yd3),
        Quantity::PerVolume.unit(),
        price(revenue.short_load),
        much(Quantity::Volume, revenue.short_load_under.yd3()),
        share(money.moved_lost_share),
    ));
}

/// The usual price of a yd³, and those of mixes.
fn prices(revenue: &Revenue) -> String {
    let price = |rate: Rate| amount(measure::rounded(Quantity::PerVolume, rate.units(), 2));
    let own = |(mix, own): &(String, Rate)| format!("{} for {mix:?}", price(*own));
    let all: Vec<String> = std::iter::once(price(revenue.per_yd3))
        .chain(revenue.prices.iter().map(own))
        .collect();
    format!("{} {}", all.join(", "), Quantity::PerVolume.unit())
}

/// What is paid only where the scenario writes it.
fn extras(money: &Money) -> Vec<String> {
    let price = |cents: Cents| amount(cents.units());
    let mut parts = Vec::new();
    if let Some(after) = money.overtime_after_week {
        parts.push(format!(
            "overtime after {} h of a week from {:?} on",
            plain(after.hours()),
            money.workweek
        ));
    }
    if let Some((after, factor)) = money.second_overtime {
        parts.push(format!(
            "× {} after {} h of a day",
            plain(factor),
            plain(after.hours())
        ));
    }
    if money.lodging > Cents::ZERO {
        parts.push(format!("lodging {} a night", price(money.lodging)));
    }
    if money.call_out > Millis::ZERO {
        parts.push(format!(
            "a shift is paid for {} h at least",
            plain(money.call_out.hours())
        ));
    }
    for (guaranteed, what) in [
        (money.guaranteed_day, "a day that a driver comes"),
        (money.guaranteed_week, "a week of the roster"),
    ] {
        if guaranteed > Millis::ZERO {
            let hours = plain(guaranteed.hours());
            parts.push(format!("{what} is paid for {hours} h at least"));
        }
    }
    if let Some(pay) = money.show_up {
        parts.push(format!(
            "sent home early or called off: {} of the shift is paid, {} to {} h",
            share(pay.share),
            plain(pay.least.hours()),
            plain(pay.most.hours())
        ));
    }
    if let Some(night) = &money.night {
        parts.push(format!(
            "{} an hour from {} to {}",
            price(night.per_h),
            clock(night.from),
            clock(night.to)
        ));
    }
    if let Some(weekend) = &money.weekend {
        parts.push(format!(
            "× {} on {}",
            plain(weekend.factor),
            weekdays(&weekend.days)
        ));
    }
    if money.truck_per_mile > Rate::ZERO {
        let units = Quantity::PerDistance.told(money.truck_per_mile.units());
        parts.push(format!(
            "{} {}",
            amount(units),
            measure::said("a driven mile")
        ));
    }
    for (cents, what) in [
        (money.per_washout, "a washout"),
        (money.pump_standby_per_h, "an hour of a pump that waits"),
        (
            money.site_crew_per_h,
            "an hour of a crew on site that waits",
        ),
    ] {
        if cents > Cents::ZERO {
            parts.push(format!("{} {what}", price(cents)));
        }
    }
    parts
}
