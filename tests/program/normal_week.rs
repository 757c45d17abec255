//! The README's table of the built-in week beside published figures: what it says is what the week does, and within the band that it
//! says. The sources stand in the table, and in full below it.

use plantday::engine::Luck;
use plantday::observe::{Figures, figure};
use plantday::plant::{Event, Observer, Plan, World};
use plantday::scenario::{self, Order, Scenario};
use plantday::units::{Millis, TruckId, Volume};

const README: &str = include_str!("../../README.md");
const WEEK: &str = include_str!("../../scenarios/estuary_week.ron");
/// Weeks that are looked at.
const WEEKS: u64 = 150;
/// What counts as a whole drum when unloading is timed: a load of 9 yd³ and more.
const FULL: Volume = Volume::thousandths(9_000);

/// The hours of the morning's rush at the bay.
const MORNING: std::ops::Range<f64> = 6.0..8.0;

/// A row of the table.
struct Row {
    words: String,
    said: f64,
    band: (f64, f64),
}

/// The rows of the table, by its heading.
fn table() -> Vec<Row> {
    let start = README
        .find("| The built-in week under today's rule")
        .expect("the table");
    let lines = README[start..]
        .lines()
        .skip(2)
        .take_while(|line| line.starts_with('|'));
    lines
        .map(|line| {
            let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
            let number = |text: &str| {
                text.parse::<f64>()
                    .unwrap_or_else(|_| panic!("{text:?} in {line}"))
            };
            let (low, high) = cells[2]
                .split_once(" to ")
                .unwrap_or_else(|| panic!("no band in {line}"));
            Row {
                words: cells[0].to_owned(),
                said: number(cells[1]),
                band: (number(low), number(high)),
            }
        })
        .collect()
}

/// A share or a mean, week by week: what is counted, and of how much.
#[derive(Clone, Debug, Default)]
struct Ratio(Vec<(f64, f64)>);

impl Ratio {
    fn add(&mut self, week: usize, part: f64, of: f64) {
        self.0.resize(self.0.len().max(week + 1), (0.0, 0.0));
        self.0[week].0 += part;
        self.0[week].1 += of;
    }

    /// The ratio of the sums, and its standard error (the usual linearization, e.g. Cochran, Sampling Techniques, 6.3; from memory).
    fn value(&self) -> (f64, f64) {
        let (part, of) = self
            .0
            .iter()
            .fold((0.0, 0.0), |sum, week| (sum.0 + week.0, sum.1 + week.1));
        let ratio = part / of;
        let squares: f64 = self
            .0
            .iter()
            .map(|week| (week.0 - ratio * week.1).powi(2))
            .sum();
        (ratio, squares.sqrt() / of)
    }
}

/// What is counted while the weeks run under today's rule.
struct Seen {
    week: usize,
    left_rack: Vec<Millis>,
    begun: Vec<Millis>,
    reported: Vec<Millis>,
    /// Of each truck whose driver has not been in the bay line since reporting: when that was.
    not_loaded_since: Vec<Option<Millis>>,
    loads_a_day: Ratio,
    yd3_a_load: Ratio,
    minutes_out: Ratio,
    unloading: Vec<f64>,
    /// Waits in the bay line that begin in `MORNING` from Monday to Friday.
    bay_wait: Ratio,
    /// From a driver's `Reported` to first joining the bay line.
    first_loads: Vec<f64>,
    late: [Ratio; 2],
    breakdowns: Ratio,
    stops: Ratio,
    hours_a_day: Ratio,
}

impl Seen {
    fn new(scenario: &Scenario) -> Self {
        let trucks = vec![Millis::ZERO; scenario.trucks.len()];
        Self {
            week: 0,
            left_rack: trucks.clone(),
            begun: trucks,
            reported: vec![Millis::ZERO; scenario.drivers.len()],
            not_loaded_since: vec![None; scenario.trucks.len()],
            loads_a_day: Ratio::default(),
            yd3_a_load: Ratio::default(),
            minutes_out: Ratio::default(),
            unloading: Vec::new(),
            bay_wait: Ratio::default(),
            first_loads: Vec::new(),
            late: [Ratio::default(), Ratio::default()],
            breakdowns: Ratio::default(),
            stops: Ratio::default(),
            hours_a_day: Ratio::default(),
        }
    }
}

impl Observer for Seen {
    fn event(&mut self, at: Millis, event: &Event) {
        let week = self.week;
        let since = |from: &[Millis], truck: TruckId| (at - from[truck.at()]).minutes();
        match *event {
            Event::Reported { driver, truck } => {
                self.reported[driver.at()] = at;
                self.not_loaded_since[truck.at()] = Some(at);
                self.loads_a_day.add(week, 0.0, 1.0);
            }
            Event::Released { driver, .. } => {
                let hours = (at - self.reported[driver.at()]).hours();
                self.hours_a_day.add(week, hours, 1.0);
            }
            Event::BayEntered { truck, waited, .. } => {
                let joined = at - waited;
                let hour = (joined - Millis::midnight(joined.day())).hours();
                if joined.day() < 5 && MORNING.contains(&hour) {
                    self.bay_wait.add(week, waited.minutes(), 1.0);
                }
                if let Some(reported) = self.not_loaded_since[truck.at()].take() {
                    self.first_loads.push((joined - reported).minutes());
                }
            }
            Event::BayLeft { volume, .. } => {
                self.loads_a_day.add(week, 1.0, 0.0);
                self.yd3_a_load.add(week, volume.yd3(), 1.0);
            }
            Event::RackLeft { truck, .. } => self.left_rack[truck.at()] = at,
            Event::SiteReached { truck, .. } => {
                self.minutes_out
                    .add(week, since(&self.left_rack, truck), 1.0);
            }
            Event::DischargeBegun { truck, .. } => self.begun[truck.at()] = at,
            Event::DischargeEnded { truck, volume, .. } if volume >= FULL => {
                self.unloading.push(since(&self.begun, truck));
            }
            Event::Taken { lateness, .. } => {
                for (ratio, over) in self.late.iter_mut().zip([15.0, 30.0]) {
                    ratio.add(
                        week,
                        f64::from(u8::from(lateness.late().minutes() > over)),
                        1.0,
                    );
                }
            }
            Event::Undelivered { .. } => {
                for ratio in &mut self.late {
                    ratio.add(week, 1.0, 1.0);
                }
            }
            Event::PlantDown { .. } => self.stops.add(week, 1.0, 0.0),
            Event::BrokeDown { .. } => self.breakdowns.add(week, 1.0, 0.0),
            _ => {}
        }
    }
}

fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

/// Loads of the written order book, each with the day and hour when it is due and how often its order comes.
fn due(scenario: &Scenario) -> Vec<(i64, f64, f64)> {
    let loads = scenario.orders.iter().flat_map(|order| {
        let number = order.volume.loads_of(order.load);
        (0..number).map(move |load| {
            let due = order.first + Millis(order.spacing.0 * load);
            (
                due.day(),
                (due - Millis::midnight(due.day())).hours(),
                order.chance,
            )
        })
    });
    loads.collect()
}

/// The share of the loads of Monday to Friday that are due in these hours, in percent.
fn due_percent(scenario: &Scenario, from: f64, to: f64) -> f64 {
    let weekdays = || due(scenario).into_iter().filter(|(day, ..)| *day < 5);
    let all: f64 = weekdays().map(|(.., chance)| chance).sum();
    let within = weekdays().filter(|(_, hour, _)| (from..to).contains(hour));
    100.0 * within.map(|(.., chance)| chance).sum::<f64>() / all
}

/// What the table's words mean: a value and its standard error, 0 where it is read off the scenario.
fn measured(scenario: &Scenario) -> Vec<(&'static str, (f64, f64))> {
    let plan = Plan::new(scenario);
    let today = scenario.todays_rule();
    let (mut world, mut seen) = (World::new(&plan), Seen::new(scenario));
    let mut figures = Figures::new(&plan, &scenario.money);
    let planned = scenario
        .plants
        .iter()
        .map(|plant| plant.planned_outages.len() as f64);
    let planned: f64 = planned.sum();
    let [mut lost, mut rejected, mut overtime] = std::array::from_fn(|_| Ratio::default());
    for week in 0..WEEKS {
        seen.week = week as usize;
        seen.breakdowns.add(seen.week, 0.0, 1.0);
        seen.stops.add(seen.week, -planned, 1.0);
        figures.begin();
        world.run(today, Luck::new(1, week), &mut (&mut seen, &mut figures));
        let mut row = vec![0.0f32; figures.width()];
        figures.row(&mut row);
        let value = |at: usize| f64::from(row[at]);
        lost.add(
            seen.week,
            value(figure::DUMPED_YD3) + value(figure::RETURNED_YD3),
            value(figure::BATCHED_YD3),
        );
        rejected.add(seen.week, value(figure::REJECTED), value(figure::LOADS));
        overtime.add(seen.week, value(figure::OVERTIME_H), value(figure::PAID_H));
    }
    let exactly = |value: f64| (value, 0.0);
    let of = |ratio: &Ratio| ratio.value();
    let percent = |ratio: &Ratio| {
        let (value, error) = ratio.value();
        (100.0 * value, 100.0 * error)
    };
    let orders = |keep: &dyn Fn(i64) -> bool| {
        let of_weekdays = scenario.orders.iter().filter(|order| order.first.day() < 5);
        of_weekdays
            .filter(|order| keep(order.volume.loads_of(order.load)))
            .count() as f64
    };
    let on = |days: std::ops::Range<i64>| -> f64 {
        let loads = due(scenario).into_iter();
        loads
            .filter(|(day, ..)| days.contains(day))
            .map(|(.., chance)| chance)
            .sum()
    };
    let of_a_weekday = |day: i64| 100.0 * on(day..day + 1) / (on(0..5) / 5.0);
    // Of the orders of Monday to Friday.
    let early = |weight: &dyn Fn(&Order) -> f64| {
        let of_weekdays = || scenario.orders.iter().filter(|order| order.first.day() < 5);
        let eight =
            |order: &&Order| (order.first - Millis::midnight(order.first.day())).hours() < 8.0;
        let all: f64 = of_weekdays().map(weight).sum();
        100.0 * of_weekdays().filter(eight).map(weight).sum::<f64>() / all
    };
    vec![
        ("loads of a driver's day", of(&seen.loads_a_day)),
        ("hours of a driver's day", of(&seen.hours_a_day)),
        ("overtime, % of paid hours", percent(&overtime)),
        (
            "orders of one load, %",
            exactly(100.0 * orders(&|loads| loads == 1) / orders(&|_| true)),
        ),
        (
            "loads due 7 to 9, %",
            exactly(due_percent(scenario, 7.0, 9.0)),
        ),
        (
            "loads due 9 to 12, %",
            exactly(due_percent(scenario, 9.0, 12.0)),
        ),
        (
            "loads due 12 to 15, %",
            exactly(due_percent(scenario, 12.0, 15.0)),
        ),
        (
            "loads due after 15, %",
            exactly(due_percent(scenario, 15.0, 24.0)),
        ),
        ("orders due first by 8, %", exactly(early(&|_| 1.0))),
        (
            "their share of the yd³, %",
            exactly(early(&|order| order.volume.yd3())),
        ),
        ("Monday, % of a weekday", exactly(of_a_weekday(0))),
        ("Thursday, % of a weekday", exactly(of_a_weekday(3))),
        ("Saturday, % of a weekday", exactly(of_a_weekday(5))),
        ("yd³ of a load", of(&seen.yd3_a_load)),
        ("minutes out to the site", of(&seen.minutes_out)),
        (
            "minutes to unload, median",
            (median(&mut seen.unloading), 0.1),
        ),
        (
            "minutes from report to first load, median",
            (median(&mut seen.first_loads), 0.1),
        ),
        ("minutes at the bay, 6 to 8", of(&seen.bay_wait)),
        ("over 15 min late, %", percent(&seen.late[0])),
        ("over 30 min late, %", percent(&seen.late[1])),
        ("dumped or brought back, %", percent(&lost)),
        ("rejected on site, %", percent(&rejected)),
        ("plants that stop, a week", of(&seen.stops)),
        ("breakdowns a week", of(&seen.breakdowns)),
    ]
}

/// Every row is what the week does (half a unit of its last place and four standard errors, as it was written from other weeks), and
/// within its band; no row is missing, none too many.
#[test]
fn the_week_is_as_near_to_published_figures_as_the_readme_says() {
    let scenario = scenario::parse("week", WEEK).expect("the week is right");
    let found = measured(&scenario);
    let rows = table();
    let mut faults = Vec::new();
    for Row { words, said, band } in &rows {
        let Some((_, (value, error))) = found.iter().find(|(name, _)| name == words) else {
            faults.push(format!("{words}: nothing measures it"));
            continue;
        };
        let unit = if said.fract() == 0.0 { 1.0 } else { 0.1 };
        if (value - said).abs() > 0.5 * unit + 4.0 * error {
            faults.push(format!(
                "{words}: {value:.3} (± {error:.3}), the table says {said}"
            ));
        }
        if *value < band.0 || *value > band.1 {
            faults.push(format!("{words}: {value:.3} is not in {band:?}"));
        }
    }
    for (name, (value, error)) in &found {
        if rows.iter().all(|row| row.words != *name) {
            faults.push(format!(
                "{name}: {value:.3} (± {error:.3}) is not in the table"
            ));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
