//! The figures of a run counted a second time, plainly, from its events and the scenario.

mod material;
mod pay;

use plantday::concrete::ReturnedFate;
use plantday::dispatch::Refusal;
use plantday::observe::{Column, FigureUnit, columns, figure};
use plantday::plant::{BrokenDrum, Event, Plan};
use plantday::scenario::Scenario;
use plantday::units::{DriverId, Millis};
use std::collections::{BTreeMap, BTreeSet};

type Tape = [(Millis, Event)];

/// The figures of a row that differ from the recount, with both numbers.
pub(crate) fn differences(
    scenario: &Scenario,
    plan: &Plan,
    tape: &Tape,
    row: &[f32],
) -> Vec<String> {
    let names = columns(scenario);
    of(scenario, plan, tape)
        .into_iter()
        .map(|(place, value)| (&names[place], f64::from(row[place]), value))
        .filter(|(column, found, value)| !agrees(column, *found, *value, row))
        .map(|(column, found, value)| format!("{}: {found} for {value}", column.key))
        .collect()
}

/// Whether a figure is that of the recount. Figures are four bytes wide, and round every amount of money to a cent, of which there
/// are a few of each kind, and one for each load sold.
fn agrees(column: &Column, found: f64, recounted: f64, row: &[f32]) -> bool {
    let cents = match column.unit {
        FigureUnit::Money => 0.2 + 0.005 * f64::from(row[figure::LOADS]),
        // Of the few yd³ of a small order.
        FigureUnit::MoneyPerYd3 => 0.005,
        _ => 0.0,
    };
    let near = (found - recounted).abs() <= 1e-5 * recounted.abs().max(1.0) + cents;
    near || found.is_nan() && recounted.is_nan()
}

/// Figures by their position in a row.
fn of(scenario: &Scenario, plan: &Plan, tape: &Tape) -> Vec<(usize, f64)> {
    let mut figures = loads(scenario, tape);
    figures.extend(pours(scenario, tape));
    figures.extend(volumes(scenario, tape));
    figures.extend(drivers(scenario, tape));
    figures.extend(counts(tape));
    figures.extend(waits(plan, tape));
    figures.extend(material::of(scenario, tape));
    let value = |wanted: usize| {
        let found = figures.iter().find(|(figure, _)| *figure == wanted);
        found.expect("counted above").1
    };
    let bill = bill(scenario, tape, &value);
    let placed = value(figure::PLACED_YD3);
    let Bill {
        cash,
        lost_sales,
        trouble,
        truck_hours,
        revenue,
    } = bill;
    figures.extend([
        (figure::COST, cash + lost_sales + trouble),
        (figure::CASH, cash + lost_sales),
        (figure::CASH_PAID, cash),
        (figure::LOST_SALES, lost_sales),
        (figure::TROUBLE, trouble),
        (figure::TRUCK_HOURS_COST, truck_hours),
        (
            figure::COST_PER_YD3,
            share(cash + trouble + truck_hours, placed),
        ),
        (figure::REVENUE, revenue),
        (figure::MARGIN, revenue - cash),
    ]);
    figures
}

fn share(part: f64, whole: f64) -> f64 {
    if whole > 0.0 { part / whole } else { f64::NAN }
}

fn count(tape: &Tape, counts: impl Fn(&Event) -> bool) -> f64 {
    tape.iter().filter(|(_, event)| counts(event)).count() as f64
}

fn sum(tape: &Tape, amount: impl Fn(&Event) -> f64) -> f64 {
    tape.iter().map(|(_, event)| amount(event)).sum()
}

/// The loads that were taken: by order, whether the first, minutes late; none where that is not judged.
fn taken(tape: &Tape) -> Vec<Option<(usize, bool, f64)>> {
    let (mut came, mut taken, mut told_taken) = (BTreeMap::new(), Vec::new(), 0);
    for (at, event) in tape {
        match *event {
            Event::SiteReached {
                order,
                truck,
                ready,
                lateness,
                number,
                ..
            } => {
                let late = (*at - ready).minutes().max(0.0);
                came.insert(truck, lateness.map(|_| (order.at(), number == 0, late)));
            }
            // A load that is turned away has not come: its lateness is that of what replaces it.
            Event::DischargeBegun { truck, .. } => taken.push(came[&truck]),
            Event::Taken {
                order,
                number,
                truck,
                lateness,
                ..
            } => {
                let told = (order.at(), number == 0, lateness.late().minutes());
                assert_eq!(came[&truck], Some(told), "told as late as it came");
                told_taken += 1;
            }
            _ => {}
        }
    }
    assert_eq!(taken.iter().flatten().count(), told_taken, "told once each");
    taken
}

fn loads(scenario: &Scenario, tape: &Tape) -> Vec<(usize, f64)> {
    let judged: Vec<(usize, bool, f64)> = taken(tape).into_iter().flatten().collect();
    let beyond = |load: &&(usize, bool, f64)| load.2 > scenario.orders[load.0].late.minutes();
    let (mut undelivered, mut first, mut late_orders) = (0.0, 0.0, BTreeSet::new());
    for (_, event) in tape {
        if let Event::Undelivered {
            order, first: is, ..
        } = *event
        {
            undelivered += 1.0;
            first += f64::from(u8::from(is));
            late_orders.insert(order.at());
        }
    }
    late_orders.extend(judged.iter().filter(beyond).map(|load| load.0));
    let late = judged.iter().filter(beyond).count() as f64 + undelivered;
    let first_late = judged.iter().filter(beyond).filter(|load| load.1).count() as f64 + first;
    let minutes: f64 = judged.iter().map(|load| load.2).sum();
    let (mut served, mut base) = (0.0, scenario.orders.len() as f64);
    for (_, event) in tape {
        match *event {
            Event::DischargeEnded {
                order,
                complete: true,
                ..
            } if order.at() < scenario.orders.len() && !late_orders.contains(&order.at()) => {
                served += 1.0;
            }
            Event::Cancelled { .. } | Event::Declined { .. } => base -= 1.0,
            _ => {}
        }
    }
    vec![
        (figure::LATE_LOADS, late),
        (
            figure::LATE_SHARE,
            share(late, judged.len() as f64 + undelivered),
        ),
        (figure::LATE_MIN, share(minutes, judged.len() as f64)),
        (figure::FIRST_LATE, first_late),
        (figure::UNDELIVERED, undelivered),
        (figure::SERVED_SHARE, share(served, base)),
    ]
}

/// Pauses of pours, from the spans in which something discharged.
fn pours(scenario: &Scenario, tape: &Tape) -> Vec<(usize, f64)> {
    let mut spans: Vec<Vec<(Millis, Millis)>> = vec![Vec::new(); scenario.orders.len()];
    let mut complete = vec![None; scenario.orders.len()];
    let mut cancelled = vec![false; scenario.orders.len()];
    let mut moved = vec![Millis::ZERO; scenario.orders.len()];
    let mut by_site = moved.clone();
    for (at, event) in tape {
        match *event {
            Event::DischargeEnded {
                order,
                took,
                complete: all,
                ..
            } if order.at() < spans.len() => {
                spans[order.at()].push((*at - took, *at));
                complete[order.at()] = all.then_some(*at);
            }
            Event::Cancelled { order, .. } | Event::Declined { order, .. } => {
                cancelled[order.at()] = true;
            }
            Event::Moved { order, by } => moved[order.at()] = by,
            Event::SitePhones { order, by } => by_site[order.at()] += by,
            _ => {}
        }
    }
    let (mut gaps, mut gap, mut pause, mut late) = (0.0, 0.0, 0.0, 0.0);
    for (id, order) in scenario.orders.iter().enumerate() {
        spans[id].sort_unstable();
        let mut until: Option<Millis> = None;
        for (from, to) in &spans[id] {
            let stood = until.map_or(0.0, |until| (*from - until).minutes().max(0.0));
            pause += stood;
            if stood > order.gap.minutes() {
                gaps += 1.0;
                gap += stood - order.gap.minutes();
            }
            until = Some(until.map_or(*to, |until| until.max(*to)));
        }
        let agreed = order.finish_by.filter(|_| !cancelled[id]);
        let missed = |by: Millis| {
            complete[id].is_none_or(|finished| finished > by + moved[id] + by_site[id])
        };
        late += f64::from(u8::from(agreed.is_some_and(missed)));
    }
    let (mut orders_moved, mut moved_min) = (0.0, 0.0);
    for by in moved.iter().filter(|by| **by > Millis::ZERO) {
        orders_moved += 1.0;
        moved_min += by.minutes();
    }
    let mut left = vec![false; scenario.orders.len()];
    for (_, event) in tape {
        if let Event::LeftOver { order, .. } = *event {
            left[order.at()] = true;
        }
    }
    let begun = |id: &usize| left[*id] && !spans[*id].is_empty();
    let broken = (0..left.len()).filter(begun).count() as f64;
    vec![
        (figure::ORDERS_MOVED, orders_moved),
        (figure::MOVED_MIN, moved_min),
        (figure::POURS_BROKEN, broken),
        (figure::GAPS, gaps),
        (figure::GAP_MIN, gap),
        (figure::CREW_WAIT_MIN, pause),
        (figure::POURS_LATE, late),
    ]
}

fn volumes(scenario: &Scenario, tape: &Tape) -> Vec<(usize, f64)> {
    let cancelled = |was_ordered: bool| {
        sum(tape, |event| match event {
            Event::Cancelled {
                volume, ordered, ..
            } if *ordered == was_ordered => volume.yd3(),
            Event::Declined { volume, .. } if !was_ordered => volume.yd3(),
            _ => 0.0,
        })
    };
    let ordered: f64 = scenario.orders.iter().map(|o| o.volume.yd3()).sum();
    let less = sum(tape, |event| match event {
        Event::Drawn { below_largest, .. } => below_largest.yd3(),
        _ => 0.0,
    });
    let balance = sum(tape, |event| match event {
        Event::BalanceCalled { volume, .. } => volume.yd3(),
        _ => 0.0,
    });
    let batched = sum(tape, |event| match event {
        Event::BayLeft { volume, .. } => volume.yd3(),
        _ => 0.0,
    });
    let placed = sum(tape, |event| match event {
        Event::DischargeEnded { volume, .. } => volume.yd3(),
        _ => 0.0,
    });
    let dumped = sum(tape, |event| match event {
        Event::LoadLost { volume, .. }
        | Event::Rejected { volume, .. }
        | Event::GivenUp { volume, .. } => volume.yd3(),
        _ => 0.0,
    });
    let left = sum(tape, |event| match event {
        Event::LeftOver { volume, .. } => volume.yd3(),
        _ => 0.0,
    });
    let returned = sum(tape, |event| match event {
        Event::DischargeEnded { returned, .. } => returned.yd3(),
        _ => 0.0,
    });
    let reused = sum(tape, |event| match event {
        Event::Returned {
            volume,
            fate: ReturnedFate::Reused,
            ..
        } => volume.yd3(),
        _ => 0.0,
    });
    let refused = sum(tape, |event| match event {
        Event::Declined { volume, .. } => volume.yd3(),
        _ => 0.0,
    });
    vec![
        (figure::REFUSED_YD3, refused),
        (
            figure::ORDERED_YD3,
            ordered - cancelled(false) + balance - less,
        ),
        (figure::CANCELLED_YD3, cancelled(true) + returned),
        (figure::RETURNED_YD3, returned - reused),
        (figure::REUSED_YD3, reused),
        (figure::BATCHED_YD3, batched),
        (figure::PLACED_YD3, placed),
        (figure::DUMPED_YD3, dumped),
        (figure::LEFT_YD3, left),
    ]
}

fn drivers(scenario: &Scenario, tape: &Tape) -> Vec<(usize, f64)> {
    let (mut productive, mut violation, mut margin) = (0.0, 0.0, f64::NAN);
    let mut last_drive = BTreeMap::new();
    for (at, event) in tape {
        match *event {
            Event::Released { driver, .. } => {
                if let Some(left) = last_drive.remove(&driver) {
                    margin = f64::min(margin, left);
                }
            }
            Event::Drove {
                driver,
                took,
                for_load,
                limit,
                ..
            } => {
                productive += if for_load { took.minutes() } else { 0.0 };
                if limit.by.is_some() {
                    let past = (*at - limit.until).minutes();
                    violation += past.clamp(0.0, took.minutes());
                    last_drive.insert(driver, -past);
                }
            }
            Event::LongDay { past, .. } => violation += past.minutes(),
            Event::BayLeft { took, .. }
            | Event::RackLeft { took, .. }
            | Event::DischargeEnded { took, .. }
            | Event::SiteLeft { washed: took, .. } => productive += took.minutes(),
            _ => {}
        }
    }
    let pay::Hours {
        worked,
        overtime,
        unworked,
        ..
    } = pay::hours(scenario, tape);
    let paid = worked + unworked;
    vec![
        (figure::PAID_H, paid),
        (figure::OVERTIME_H, overtime),
        (figure::UNWORKED_H, unworked),
        (figure::TRUCK_USE, share(productive / 60.0, paid)),
        (figure::VIOLATION_MIN, violation),
        (figure::MARGIN_MIN, margin),
    ]
}

/// What is only counted.
fn counts(tape: &Tape) -> Vec<(usize, f64)> {
    use Event::{
        DischargeEnded, DriverDayLost, DryUp, HelperSent, LoadLost, NoShow, PromiseBroken, Refused,
        Rejected, SiteReached, Stranded,
    };
    let refused = |is: fn(Refusal) -> bool| {
        count(tape, |e| matches!(e, Refused { reason, .. } if is(*reason)))
    };
    vec![
        (
            figure::LOADS,
            count(tape, |e| matches!(e, DischargeEnded { .. })),
        ),
        (
            figure::STRANDED,
            count(tape, |e| matches!(e, Stranded { .. })),
        ),
        (
            figure::DAYS_LOST,
            count(tape, |e| matches!(e, DriverDayLost { .. })),
        ),
        (
            figure::RESTED_OUT,
            count(tape, |e| matches!(e, Event::RestsOut { .. })),
        ),
        (
            figure::LOADS_LOST,
            count(tape, |e| matches!(e, LoadLost { .. })),
        ),
        (
            figure::REJECTED,
            count(tape, |e| matches!(e, Rejected { spot: Some(_), .. })),
        ),
        (
            figure::REBATCHED,
            count(tape, |e| matches!(e, Rejected { .. })),
        ),
        (figure::DRY_UPS, count(tape, |e| matches!(e, DryUp { .. }))),
        (
            figure::FETCHED,
            count(tape, |e| {
                matches!(e, HelperSent { .. } | Event::OwnDriverSent { .. })
            }),
        ),
        (
            figure::NO_SHOWS,
            count(tape, |e| matches!(e, NoShow { .. })),
        ),
        (
            figure::BROKEN,
            count(tape, |e| matches!(e, PromiseBroken { .. })),
        ),
        (
            figure::OUTSIDE,
            count(tape, |e| matches!(e, SiteReached { outside: true, .. })),
        ),
        (
            figure::REFUSED_HOURS,
            refused(|reason| {
                use Refusal as R;
                matches!(
                    reason,
                    R::DutyWindow
                        | R::CompanyLimit
                        | R::Relieved
                        | R::LastLoadGate
                        | R::HomeGate(_)
                        | R::DrivingHours
                        | R::OnDutyHours
                        | R::BreakDue
                        | R::WeeklyHours
                        | R::CompanyFinish
                        | R::KeepGate(_)
                        | R::ReserveGate(_)
                        | R::DriversWord(_)
                )
            }),
        ),
        (
            figure::BREAKDOWNS,
            count(tape, |e| matches!(e, Event::BrokeDown { .. })),
        ),
        (
            figure::GIVEN_UP,
            count(tape, |e| matches!(e, Event::GivenUp { .. })),
        ),
        (
            figure::DRUMS_SET,
            count(
                tape,
                |e| matches!(e, Event::BrokenDrum { how, .. } if *how == BrokenDrum::Set),
            ),
        ),
        (
            figure::REFUSED_CLOSED,
            refused(|reason| reason == Refusal::PlantClosed),
        ),
        (
            figure::REFUSED_OTHER,
            refused(|reason| matches!(reason, Refusal::NoWay | Refusal::NotLent | Refusal::Weight)),
        ),
    ]
}

/// A stay in a queue: joined, served from, left.
#[derive(Clone, Copy, Default)]
struct Stay {
    joined: Millis,
    entered: Option<Millis>,
    left: Option<Millis>,
}

/// Waits, and the first of the queue figures: the bays of each plant, from the stays of the trucks.
fn waits(plan: &Plan, tape: &Tape) -> Vec<(usize, f64)> {
    let mut bays: Vec<Vec<Stay>> = vec![Vec::new(); plan.plants.len()];
    let mut sites: Vec<Stay> = Vec::new();
    let mut open: BTreeMap<u32, usize> = BTreeMap::new();
    for (at, event) in tape {
        let fresh = Stay {
            joined: *at,
            ..Stay::default()
        };
        match *event {
            Event::BayJoined { truck, plant } => {
                open.insert(truck.0, bays[plant.at()].len());
                bays[plant.at()].push(fresh);
            }
            Event::BayQuit { truck, plant } => bays[plant.at()][open[&truck.0]].left = Some(*at),
            Event::BayEntered { truck, plant, .. } => {
                bays[plant.at()][open[&truck.0]].entered = Some(*at);
            }
            Event::BayLeft { truck, plant, .. } => {
                bays[plant.at()][open[&truck.0]].left = Some(*at);
            }
            Event::SiteReached { truck, .. } => {
                open.insert(truck.0, sites.len());
                sites.push(fresh);
            }
            Event::PlaceTaken { truck, .. } => sites[open[&truck.0]].entered = Some(*at),
            _ => {}
        }
    }
    let mean_wait = |stays: &[Stay]| {
        let entered = |s: &Stay| s.entered.map(|entered| (entered - s.joined).minutes());
        let waits: Vec<f64> = stays.iter().filter_map(entered).collect();
        if waits.is_empty() {
            0.0
        } else {
            waits.iter().sum::<f64>() / waits.len() as f64
        }
    };
    let mut figures = vec![
        (figure::BAY_WAIT_MIN, mean_wait(&bays.concat())),
        (figure::SITE_WAIT_MIN, mean_wait(&sites)),
    ];
    // Averages are taken over the period, though stays may end after it.
    let (begin, end) = plan.measure;
    let within = |from: Millis, to: Millis| (to.min(end) - from.max(begin)).hours().max(0.0);
    let hours = (end - begin).hours();
    for (plant, stays) in bays.iter().enumerate() {
        let (mut waiting, mut busy, mut served) = (0.0, 0.0, 0.0);
        for stay in stays {
            let left = stay.left.unwrap_or(end);
            let entered = stay.entered.unwrap_or(left);
            waiting += within(stay.joined, entered);
            busy += within(entered, left);
            served += f64::from(u8::from(stay.entered.is_some() && stay.left.is_some()));
        }
        let first = figure::COUNT + 5 * plant;
        figures.push((first, served / hours));
        figures.push((first + 1, waiting / hours));
        figures.push((first + 2, (waiting + busy) / hours));
        figures.push((first + 3, busy / hours / f64::from(plan.plants[plant].bays)));
        figures.push((first + 4, mean_wait(stays)));
    }
    figures
}

/// What a run costs and earns, by kind.
struct Bill {
    cash: f64,
    lost_sales: f64,
    trouble: f64,
    truck_hours: f64,
    revenue: f64,
}

fn bill(scenario: &Scenario, tape: &Tape, value: &impl Fn(usize) -> f64) -> Bill {
    let money = &scenario.money;
    let came: Vec<(usize, bool, f64)> = taken(tape).into_iter().flatten().collect();
    let beyond = |is_first: bool| -> f64 {
        let loads = came.iter().filter(|load| load.1 == is_first);
        let beyond =
            |load: &(usize, bool, f64)| (load.2 - scenario.orders[load.0].late.minutes()).max(0.0);
        loads.map(beyond).sum()
    };
    let early = sum(tape, |event| match event {
        Event::Taken { lateness, .. } => {
            let before = -lateness.after_ready.minutes();
            (before - lateness.tolerated.minutes()).max(0.0)
        }
        _ => 0.0,
    });
    let undelivered = sum(tape, |event| match event {
        Event::Undelivered { volume, .. } => volume.yd3(),
        _ => 0.0,
    });
    let own = |driver: &DriverId| scenario.drivers[driver.at()].hauler.is_none();
    let hours = |span: &dyn Fn(&Event) -> Millis| sum(tape, |event| span(event).hours());
    let driven = hours(&|event: &Event| match event {
        Event::Drove {
            driver,
            took,
            broken,
            held,
            ..
        } if own(driver) => *took - *broken - *held,
        _ => Millis::ZERO,
    });
    let helpers = hours(&|event: &Event| match event {
        Event::HelperSent { takes, .. }
        | Event::CarDriven { takes, .. }
        | Event::HelperInVain { takes, .. } => *takes,
        _ => Millis::ZERO,
    });
    let stayed = hours(&|event: &Event| match event {
        Event::CrewStayed { time, .. } | Event::KeptOpen { time, .. } => *time,
        _ => Millis::ZERO,
    });
    let of_haulers = pay::hours(scenario, tape);
    let paid = value(figure::PAID_H) - of_haulers.hired;
    let overtime = value(figure::OVERTIME_H);
    let worked = value(figure::PAID_H) - value(figure::UNWORKED_H);
    let pay = money.pay_per_h.units() * (paid - overtime + overtime * money.overtime_factor);
    let cash = pay * (1.0 + money.payroll_tax)
        + of_haulers.hired_pay
        + money.truck_per_driven_h.units() * driven
        + money.crew_per_open_h.units() * (open_hours(scenario) + stayed)
        + money.material_per_yd3.units() * value(figure::BATCHED_YD3)
        + sum(tape, |event| match event {
            Event::BayLeft { order, volume, .. } => (scenario.orders.get(order.at()))
                .map_or(0.0, |order| order.stabilizer_per_yd3.units() * volume.yd3()),
            _ => 0.0,
        })
        + money.dumped_per_yd3.units() * value(figure::DUMPED_YD3)
        + money.returned_per_yd3.units() * value(figure::RETURNED_YD3)
        + sum(tape, |event| match event {
            Event::BrokenDrum { how, .. } => match how {
                BrokenDrum::Stabilized => money.drum_stabilized.units(),
                BrokenDrum::Emptied => money.drum_emptied.units(),
                BrokenDrum::Set => money.drum_chipped_out.units(),
            },
            _ => 0.0,
        })
        + money.truck_per_mile.units()
            * sum(tape, |event| match event {
                Event::Drove { driver, miles, .. } if own(driver) => *miles,
                _ => 0.0,
            })
        + money.per_washout.units() * count(tape, |e| matches!(e, Event::WashedOut { .. }))
        + money.found_heavy.units()
            * count(
                tape,
                |e| matches!(e, Event::Drove { held, .. } if *held > Millis::ZERO),
            )
        + money.lodging.units() * value(figure::RESTED_OUT)
        + money.helper_per_h.units() * helpers
        + material::cost(scenario, tape);
    let weak = value(figure::BELOW_STRENGTH);
    let trouble = money.late_per_load.units() * value(figure::LATE_LOADS)
        + money.late_per_min.units() * beyond(false)
        + money.first_late_per_min.units() * beyond(true)
        + money.early_per_min.units() * early
        + money.gap_per_min.units() * value(figure::GAP_MIN)
        + money.broken_pour.units() * value(figure::POURS_BROKEN)
        + money.moved_per_min.units() * value(figure::MOVED_MIN)
        + money.outside_per_load.units() * value(figure::OUTSIDE)
        + money.below_strength.units() * if weak.is_nan() { 0.0 } else { weak }
        + money.undelivered_per_yd3.units() * undelivered
        + money.stranded.units() * value(figure::STRANDED);
    Bill {
        cash,
        lost_sales: lost_sales(scenario, tape),
        trouble,
        truck_hours: money.truck_per_duty_h.units() * (worked - of_haulers.hired_worked),
        revenue: sum(tape, |event| match event {
            Event::DischargeEnded { order, volume, .. } => {
                price(scenario, order.at()) * volume.yd3()
            }
            _ => 0.0,
        }),
    }
}

/// The price of a yd³ of an order, by its mix; endless orders stand behind the others.
fn price(scenario: &Scenario, order: usize) -> f64 {
    let written = scenario.orders.iter().map(|order| &order.mix);
    let mut mixes = written.chain(scenario.endless.iter().map(|order| &order.mix));
    let mix = mixes.nth(order).expect("there is such an order");
    scenario.money.revenue.of_mix(mix).units()
}

/// What was not placed though its customer would have taken it, and what moved customers take elsewhere.
fn lost_sales(scenario: &Scenario, tape: &Tape) -> f64 {
    let mut open: Vec<f64> = scenario.orders.iter().map(|o| o.volume.yd3()).collect();
    let mut placed = vec![0.0; open.len()];
    let mut moved = vec![false; open.len()];
    for (_, event) in tape {
        match *event {
            Event::Drawn { order, volume, .. } => open[order.at()] = volume.yd3(),
            Event::Cancelled { order, volume, .. } => open[order.at()] -= volume.yd3(),
            Event::BalanceCalled { order, volume, .. } => open[order.at()] += volume.yd3(),
            Event::Moved { order, by } => moved[order.at()] = by > Millis::ZERO,
            Event::DischargeEnded {
                order,
                volume,
                returned,
                ..
            } if order.at() < open.len() => {
                open[order.at()] -= volume.yd3() + returned.yd3();
                placed[order.at()] += volume.yd3();
            }
            _ => {}
        }
    }
    let lost = |(at, open): (usize, &f64)| {
        let elsewhere = if moved[at] {
            placed[at] * scenario.money.moved_lost_share
        } else {
            0.0
        };
        price(scenario, at) * (open + elsewhere)
    };
    open.iter().enumerate().map(lost).sum()
}

fn open_hours(scenario: &Scenario) -> f64 {
    let mut sum = 0.0;
    for plant in &scenario.plants {
        for day in 0..i64::from(scenario.period.days) {
            let weekday = scenario.period.first_day.after(day);
            let spans = plant.hours.iter().filter(|h| h.days.contains(&weekday));
            sum += if plant.hours.is_empty() {
                24.0
            } else {
                spans.map(|h| (h.close - h.open).hours()).sum()
            };
        }
    }
    sum
}
