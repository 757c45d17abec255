//! What loads of described mixes weigh: by the law, on the road, and in what the program says of them.

use super::day::{figures, lines, scenario, scenario_problems};
use super::on_paper::changed;
use plantday::engine::Luck;
use plantday::observe::{Figures, figure};
use plantday::plant::{Event, Observer, Plan, World};
use plantday::report::summary;
use plantday::units::{Millis, Volume};

/// Six trucks that may carry 40,500 lb (66,500 gross, 26,000 empty); a weigh station on the road between plant and site.
///
/// The mix on paper: 540 ÷ (3.15 × 62.4) + 281 ÷ 62.4 + 1,750 ÷ (2.68 × 62.4) + 0.54 of air = 18.255 ft³ leave 8.745 ft³ ×
/// 2.64 × 62.4 = 1,440.6 lb of fine aggregate (absolute volumes, ACI 211.1): 4,011.6 lb a yd³, 10.095 yd³.
const DAY: &str = r#"(
    name: "weighed day",
    rule_book: "none",
    company: (promise_horizon_min: 0),
    plants: [(name: "P", at: (0, 0), hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(5), truck_scale: false)],
    sites: [(name: "A", at: (10, 0))],
    roads: Network(links: [
        (from: "P", to: "A", miles: 10, mph: 40, both_ways: false,
         weigh_station: (hours: [(from: "00:00", to: "23:00")], minutes: 4)),
        (from: "A", to: "P", miles: 10, mph: 40, both_ways: false,
         weigh_station: (hours: [(from: "00:00", to: "23:00")], minutes: 4))]),
    weighing: (held: Constant(10)),
    trucks: [(name: "T", count: 6, home: "P", capacity_yd3: 12, empty_lb: 26000, legal_gross_lb: 66500)],
    drivers: [(name: "D", trucks: "T", report: "05:30")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 120, load_yd3: 12, spacing_min: 30,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    concrete: (
        mixes: [(name: "standard", cement_lb: 540, water_lb: 281, coarse_lb: 1750, slump_in: 4, specified_psi: 3000)],
        meter: (sd_in: 0), moisture: (fine_sd: 0, coarse_sd: 0), tickets: (read: 1),
        on_site: (tested: 0, by_eye_in: 11, air_sd: 0, wrong_mix: 0, retemper: true), age_limit_min: 90,
    ),
    rules: [(name: "R", belief: FreeFlow)],
)"#;

fn with(changes: &[(&str, &str)]) -> String {
    crate::changed::changed(DAY, changes)
}

/// Loads found heavy, heavy loads and loads placed of each replication.
fn weighed(text: &str, replications: u64) -> Vec<[f32; 3]> {
    let scenario = scenario(text);
    let plan = Plan::new(&scenario);
    let mut figures = Figures::new(&plan, &scenario.money);
    let mut world = World::new(&plan);
    let mut row = vec![0.0; figures.width()];
    (0..replications)
        .map(|replication| {
            figures.begin();
            world.run(0, Luck::new(1, replication), &mut figures);
            figures.row(&mut row);
            [figure::FOUND_HEAVY, figure::HEAVY, figure::LOADS].map(|at| row[at])
        })
        .collect()
}

/// Volumes promised, and how long each drive was held, of replication 0.
#[derive(Default)]
struct Seen {
    volumes: Vec<Volume>,
    held: Vec<Millis>,
}

impl Observer for Seen {
    fn event(&mut self, _at: Millis, event: &Event) {
        match *event {
            Event::Promised { volume, .. } => self.volumes.push(volume),
            Event::Drove { held, .. } if held > Millis::ZERO => self.held.push(held),
            _ => {}
        }
    }
}

fn seen(text: &str) -> Seen {
    let scenario = scenario(text);
    let plan = Plan::new(&scenario);
    let mut seen = Seen::default();
    World::new(&plan).run(0, Luck::new(1, 0), &mut seen);
    seen
}

/// Heavy aggregate: 600 ÷ (3.15 × 62.4) + 280 ÷ 62.4 + 2,100 ÷ (3.0 × 62.4) + 0.54 = 19.298 ft³ leave 7.702 ft³ × 2.9 × 62.4 =
/// 1,393.8 lb: 4,373.8 lb a yd³ (absolute volumes, ACI 211.1). 40,500 lb are 9.259 yd³ of it, not the 10 yd³ of normal
/// concrete (150 lb/ft³); 30 yd³ take three such loads and one of 2.223.
#[test]
fn a_load_is_cut_to_the_legal_weight_of_its_mix() {
    let heavy = with(&[
        (
            "cement_lb: 540, water_lb: 281, coarse_lb: 1750",
            "cement_lb: 600, water_lb: 280, coarse_lb: 2100, gravities: (coarse: 3.0, fine: 2.9)",
        ),
        ("truck_scale: false", "truck_scale: true"),
        (
            "volume_yd3: 120, load_yd3: 12",
            "volume_yd3: 30, load_yd3: 10",
        ),
    ]);
    let volumes = seen(&heavy).volumes;
    assert_eq!(
        volumes,
        [9_259, 9_259, 9_259, 2_223].map(Volume::thousandths)
    );
    assert_eq!(weighed(&heavy, 1), [[0.0, 0.0, 4.0]]);
    let said = summary::answer(&scenario(&heavy)).terminal(400);
    let doubt = "T1 to T6: 66,500 lb gross less 26,000 lb empty leave 40,500 lb: loads are cut to 9.25 yd³ of standard (4,374 lb a yd³)";
    assert!(said.contains(doubt), "{said}");
    // A mix that nobody describes weighs 4,050 lb a yd³.
    let from = heavy.find("concrete: (").expect("it has concrete");
    let to = heavy.find("rules: [").expect("it has rules");
    let normal = format!("{}{}", &heavy[..from], &heavy[to..]);
    assert_eq!(seen(&normal).volumes, [10_000; 3].map(Volume::thousandths));
    let said = summary::answer(&scenario(&normal)).terminal(400);
    assert!(
        said.contains("12 yd³ weigh 48,600 lb") && said.contains("loads are cut to 10.00 yd³"),
        "{said}"
    );
}

/// One truck, one day, one weight: who is found heavy at the station is a heavy load;
/// of trucks 500 lb over the books, give or take 500, about five in six are (z = 1). Behind a closed station nobody is found.
#[test]
fn a_load_found_heavy_is_a_heavy_load() {
    let days = weighed(DAY, 20);
    for [found, heavy, _] in &days {
        assert_eq!(found, heavy);
    }
    let [heavy, loads] = [1, 2].map(|at| days.iter().map(|day| day[at]).sum::<f32>());
    assert!(
        (0.65..0.98).contains(&(heavy / loads)),
        "{heavy} of {loads}"
    );
    let written = with(&[(
        "held: Constant(10)",
        "empty_over_lb: 300, empty_sd_lb: 700, held: Constant(10)",
    )]);
    let written = weighed(&written, 20);
    for [found, heavy, _] in &written {
        assert_eq!(found, heavy);
    }
    assert_ne!(written, days);
    let closed: Vec<_> = weighed(&with(&[("\"23:00\"", "\"00:01\"")]), 20);
    for (open, closed) in days.iter().zip(closed) {
        assert_eq!(closed, [0.0, open[1], open[2]]);
    }
    // Booked weights that are true: nobody is heavy.
    let true_books = with(&[(
        "held: Constant(10)",
        "empty_over_lb: 0, empty_sd_lb: 0, held: Constant(10)",
    )]);
    assert!(
        weighed(&true_books, 5)
            .iter()
            .all(|day| day[..2] == [0.0, 0.0])
    );
}

#[test]
fn the_empty_weight_is_written_once() {
    let text = with(&[
        (
            "held: Constant(10)",
            "empty_over_lb: 300, held: Constant(10)",
        ),
        (
            "age_limit_min: 90",
            "age_limit_min: 90, empty_weight: (over_lb: 0, sd_lb: 0)",
        ),
    ]);
    let problems = scenario_problems(&text);
    assert!(
        problems.contains(
            "the field `empty_weight` of a concrete block has another name (expected `weighing: (empty_over_lb: …, empty_sd_lb: …)` of \
             the scenario, which holds for weigh stations and computed loads alike)"
        ) && problems.trim_end().lines().count() == 1,
        "{problems}"
    );
}

/// Every load is too old when it comes, as the plant believes the road shorter than it is with a truck that is held: it goes back
/// past the station and is weighed anew, held for other minutes. By a road without a station it is not.
#[test]
fn a_heavy_load_that_comes_back_is_weighed_anew() {
    let back = with(&[
        (
            "held: Constant(10)",
            "empty_over_lb: 1000, empty_sd_lb: 0, held: Lognormal(mean: 45, cv: 0.4)",
        ),
        ("age_limit_min: 90", "age_limit_min: 50"),
        ("volume_yd3: 120", "volume_yd3: 12"),
        ("count: 6, ", ""),
    ]);
    let held = seen(&back).held;
    assert!(held.len() >= 2 && held[0] != held[1], "{held:?}");
    assert!(lines(&back, &["overweight"]).lines().count() >= 2);
    let other = back.replacen(
        "(from: \"A\", to: \"P\", miles: 10, mph: 40, both_ways: false,\n         weigh_station: (hours: [(from: \"00:00\", to: \"23:00\")], minutes: 4))",
        "(from: \"A\", to: \"P\", miles: 10, mph: 40, both_ways: false)",
        1,
    );
    assert_ne!(other, back);
    let [there_and_back, there] = [&back, &other].map(|text| weighed(text, 1)[0]);
    assert_eq!(there[0], there[1], "held once for each load that left");
    assert!(there_and_back[0] > there_and_back[1]);
}

/// The load on paper: 10 yd³ of 3,962 lb leave 10 lb. The driver who reads too early adds water, and it leaves heavier than
/// it was batched; who waits for the HRWR does not.
#[test]
fn water_in_the_yard_weighs_too() {
    let full = [(
        "legal_gross_lb: None",
        "empty_lb: 28000, legal_gross_lb: 67630",
    )];
    let watered = changed(&full);
    let waited = changed(&[
        full[0],
        ("read_after: Minutes(0)", "read_after: Minutes(5)"),
    ]);
    let heavy = |text: &str| figures(text, &[figure::HEAVY])[0];
    assert_eq!((heavy(&watered), heavy(&waited)), (1.0, 0.0));
}

#[test]
fn weighing_without_a_station_is_doubted() {
    let doubt = "there is no weigh station on the roads: no truck is ever held";
    let none = changed(&[("rules: [", "weighing: (), rules: [")]);
    let said = |text: &str| summary::answer(&scenario(text)).terminal(400);
    assert!(said(&none).contains(doubt), "{}", said(&none));
    assert!(!said(DAY).contains(doubt));
}

/// Abrams' law of that day: 14,000 ÷ 8^(312 ÷ 589.68) = 4,659 psi.
#[test]
fn a_mix_below_its_own_specified_strength_is_doubted() {
    let weak = changed(&[("specified_psi: 4000", "specified_psi: 9000")]);
    let said = |text: &str| summary::answer(&scenario(text)).terminal(400);
    let doubt = "Mix standard has 4,659 psi at 28 days by its own w/c of 0.529, less than the 9,000 psi specified";
    assert!(said(&weak).contains(doubt), "{}", said(&weak));
    assert!(!said(&changed(&[])).contains("psi specified"));
}
