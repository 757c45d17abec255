//! `fleet` decides as an estimator would: the cheapest fleet that does what is asked, the fewest trucks beside it, drivers who hand
//! trucks over, and only what the pour itself costs. Every day is without luck and reckoned by hand in its comment.

use crate::changed::changed;
use plantday::Watch;
use plantday::observe::CostPart;
use plantday::scenario::edit::calm::Trouble;
use plantday::scenario::{Scenario, parse};
use plantday::studies::verify::days::TOWER;
use plantday::studies::{FleetAnswer, FleetQuestion, FleetSize, fleet};
use plantday::units::{Millis, OrderId, PlantId};
use std::num::NonZeroUsize;

pub(crate) fn read(changes: &[(&str, &str)]) -> Scenario {
    match parse("test", &changed(TOWER, changes)) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

pub(crate) fn ask(scenario: &Scenario, change: impl FnOnce(&mut FleetQuestion)) -> FleetAnswer {
    let mut question = FleetQuestion {
        order: OrderId::new(0),
        alone: true,
        trucks: 1..=16,
        replications: 60,
        threads: Some(NonZeroUsize::MIN),
        ..FleetQuestion::default()
    };
    change(&mut question);
    fleet(scenario, &question, Watch::default())
        .expect("the question makes sense")
        .expect("nobody stops it")
}

pub(crate) fn cheapest(answer: &FleetAnswer) -> &FleetSize {
    answer.recommended().expect("some fleet does it").1
}

pub(crate) fn fewest(answer: &FleetAnswer) -> u32 {
    let plan = answer.recommended().expect("some fleet does it").0;
    plan.sizes[plan.smallest.expect("some fleet does it")].trucks
}

/// Time of the day at which it is done, and how late that is.
pub(crate) fn done(answer: &FleetAnswer, size: &FleetSize) -> (String, f64) {
    let plan = answer.shown();
    let finished = Millis::from_minutes(size.finished_min.mean.expect("it is finished"));
    let behind = size.behind(plan).expect("it is finished");
    ((finished - answer.midnight).to_string(), behind.minutes())
}

/// Four trucks never leave the site without concrete for 20 min, and so pass for enough; they run behind from load to load, drivers
/// and crew work longer, and it costs more. Five are the cheapest.
#[test]
fn the_smallest_fleet_is_not_the_cheapest() {
    let answer = ask(&read(&[]), |_| {});
    assert_eq!((cheapest(&answer).trucks, fewest(&answer)), (5, 4));
    let plan = answer.shown();
    let (_, dearer) = plan
        .dearer
        .iter()
        .find(|(at, _)| *at == 3)
        .expect("it was in the final answer");
    assert!(dearer.interval.low > 5.0, "{dearer:?}");
}

/// 50 loads every 5 min, round trip 4 + 4 + 20 + 1 + 5 + 2 + 20 = 56 min: 56 ÷ 5 = 11.2. Twelve keep the plan (49 × 5 + 6 min: 10:11), eleven
/// are done at 10:15 and cheaper, eight are an hour and a half behind. What the order says of its finish is asked without an option.
#[test]
fn a_fleet_that_runs_behind_says_so_and_the_finish_of_the_order_is_asked() {
    let deck = [
        (
            "bays: 1, loading: Constant(6)",
            "bays: 2, loading: Constant(4)",
        ),
        (
            "first: \"05:00\", volume_yd3: 600, spacing_min: 15, gap_min: 20",
            "first: \"06:00\", volume_yd3: 500, spacing_min: 5",
        ),
        ("places: 1", "places: 2"),
        (
            "position: Constant(2), discharge: Constant(10), chute_wash: Constant(3)",
            "position: Constant(1), discharge: Constant(5), chute_wash: Constant(2)",
        ),
    ];
    let answer = ask(&read(&deck), |_| {});
    assert_eq!((cheapest(&answer).trucks, fewest(&answer)), (11, 8));
    let sizes = &answer.shown().sizes;
    assert_eq!(done(&answer, &sizes[11]), ("10:11".into(), 0.0));
    assert_eq!(done(&answer, &sizes[10]), ("10:15".into(), 4.0));
    assert_eq!(done(&answer, &sizes[7]), ("11:47".into(), 96.0));
    let mut by = deck.to_vec();
    by.push(("spacing_min: 5", "finish_by: \"10:15\", spacing_min: 5"));
    assert_eq!(fewest(&ask(&read(&by), |_| {})), 11);
    by.push(("finish_by: \"10:15\"", "finish_by: \"10:11\""));
    assert_eq!(cheapest(&ask(&read(&by), |_| {})).trucks, 12);
    // Asked for by hand it goes before what the order says.
    let late = ask(&read(&by), |question| {
        question.finish_by = Some(Millis::from_minutes(12.0 * 60.0))
    });
    assert_eq!(fewest(&late), 8);
}

/// A bay that takes 8 min a load gives one every 8 min whatever the spacing: 59 ÷ 8 = 7.4, and an eighth truck is the last that helps.
/// 30 loads: the last is done 29 × 8 + 5 min after the first came at 06:00, at 09:57.
#[test]
fn the_bay_bounds_the_fleet() {
    let bay = [
        ("loading: Constant(6)", "loading: Constant(8)"),
        (
            "first: \"05:00\", volume_yd3: 600, spacing_min: 15, gap_min: 20",
            "first: \"06:00\", volume_yd3: 300, spacing_min: 5",
        ),
        ("places: 1", "places: 2"),
        (
            "position: Constant(2), discharge: Constant(10), chute_wash: Constant(3)",
            "position: Constant(1), discharge: Constant(4), chute_wash: Constant(2)",
        ),
    ];
    let answer = ask(&read(&bay), |_| {});
    let plan = answer.shown();
    assert_eq!(
        (plan.hand.every(), plan.hand.trucks()),
        (Millis::MINUTE * 8, 8)
    );
    assert_eq!(cheapest(&answer).trucks, 8);
    let finished: Vec<String> = plan.sizes[7..]
        .iter()
        .map(|size| done(&answer, size).0)
        .collect();
    assert!(finished.iter().all(|done| done == "09:57"), "{finished:?}");
}

/// What a start costs does not depend on which other starts were asked for, though more days are simulated then.
#[test]
fn the_cost_of_a_start_is_its_own() {
    let night = [
        (
            "rule_book: \"none\"",
            "rule_book: \"none\", period: (days: 2)",
        ),
        (
            "first: \"05:00\", volume_yd3: 600",
            "day: 2, first: \"00:30\", volume_yd3: 200",
        ),
    ];
    let scenario = read(&night);
    let starts = |minutes: &[f64]| {
        let answer = ask(&scenario, |question| {
            question.first_loads = minutes
                .iter()
                .map(|minutes| Millis::from_minutes(*minutes))
                .collect();
        });
        let of =
            |plan: &plantday::studies::PourPlan| plan.sizes[4].cost_per_yd3.mean.expect("a cost");
        answer.plans.iter().map(of).collect::<Vec<f64>>()
    };
    let (night, both, noon) = (starts(&[30.0]), starts(&[30.0, 600.0]), starts(&[600.0]));
    assert_eq!(both, [night, noon].concat());
    assert!(
        (both[0] - both[1]).abs() < 1e-9,
        "no luck and no traffic: {both:?}"
    );
}

/// The parts of the cost add up to it, and the plant's crew is paid from the first truck at the bay (04:30) to the last one back (20:20
/// after 19:57 + 3 + 20): 15 h 50 min at $110 over 600 yd³.
#[test]
fn the_cost_is_the_pours_own_part_by_part() {
    let answer = ask(
        &read(&[(
            "rule_book: \"none\"",
            "rule_book: \"none\", money: (crew_per_open_h: 110)",
        )]),
        |_| {},
    );
    let size = cheapest(&answer);
    let sum: f64 = size.parts.iter().map(|(_, cost)| cost).sum();
    assert!((sum - size.cost_per_yd3.mean.expect("a cost")).abs() < 1e-9);
    let crew = size
        .parts
        .iter()
        .find(|(part, _)| *part == CostPart::Crews)
        .expect("a crew")
        .1;
    let hours = (20.0 * 60.0 + 20.0 - 4.5 * 60.0) / 60.0;
    assert!((crew - hours * 110.0 / 600.0).abs() < 1e-6, "{crew}");
}

/// Among other work a pour costs what the day costs more with it. Beside an order of another site, served by trucks of its own plant, that
/// is the material of its 600 yd³ and its trucks' work, and the crew of the posted hours is paid anyway.
#[test]
fn among_other_work_it_costs_what_the_day_costs_more() {
    let other = [
        (
            "sites: [(name: \"Tower\")]",
            "sites: [(name: \"Tower\"), (name: \"Barn\")]",
        ),
        ("\"Tower\": (20, 20)", "\"Tower\": (20, 20), \"Barn\": 10"),
        (
            "orders: [(",
            "orders: [(name: \"Slab\", site: \"Barn\", first: \"08:00\", volume_yd3: 30, spacing_min: 30, discharge: Constant(10)), (",
        ),
        (
            "rule_book: \"none\"",
            "rule_book: \"none\", money: (crew_per_open_h: 110)",
        ),
    ];
    let answer = ask(&read(&other), |question| {
        question.alone = false;
        question.order = OrderId::new(1);
        question.trucks = 18..=20;
    });
    let size = answer.shown().sizes.last().expect("twenty trucks");
    let part = |wanted: CostPart| {
        size.parts
            .iter()
            .find(|(part, _)| *part == wanted)
            .map_or(0.0, |(_, cost)| *cost)
    };
    assert!(
        (part(CostPart::Material) - 105.0).abs() < 1e-9,
        "{:?}",
        size.parts
    );
    assert_eq!(part(CostPart::Crews), 0.0);
    assert!(size.cost_per_yd3.mean.expect("a cost") < 120.0);
}

/// 19 runs of 20 cannot show 95% with 95% confidence whatever they find: (19/20)^58 > 0.05 > (19/20)^59, so 59 are the fewest.
#[test]
fn too_few_runs_are_refused_before_they_are_made() {
    let scenario = read(&[]);
    let asked = |replications| {
        let question = FleetQuestion {
            replications,
            alone: true,
            ..FleetQuestion::default()
        };
        fleet(&scenario, &question, Watch::default())
    };
    let error = asked(58).expect_err("too few");
    assert!(error.contains("expected 59 at least"), "{error}");
    assert!(asked(59).is_ok());
}

/// Late loads can be asked for too: with four trucks most come late, with five none.
#[test]
fn late_loads_can_be_asked_for() {
    let answer = ask(&read(&[]), |question| question.late_share = Some(0.1));
    assert_eq!(fewest(&answer), 5);
    let late = |trucks: usize| answer.shown().sizes[trucks - 1].late_share.mean;
    assert_eq!(late(5), Some(0.0));
    assert!(late(4) > Some(0.5), "{:?}", late(4));
}

/// Two plants whose bays take 12 and 6 min a load, ordered every 6 min. Alone the first gives a load every 12 min: 50 loads would take until
/// 05:00 + 49 × 12 min. With the second as a backup trucks load where they are sooner, the line at the bay counted, and the pour is done in
/// little more than 29 × 6 min; without the second it stands.
#[test]
fn a_backup_is_used_when_the_bay_is_the_bottleneck() {
    let two = [
        (
            "plants: [(name: \"Yard\", bays: 1, loading: Constant(6), rack: Constant(4))]",
            "plants: [(name: \"Yard\", bays: 1, loading: Constant(12), rack: Constant(4)), (name: \"Second\", bays: 1, loading: Constant(6), rack: Constant(4))]",
        ),
        (
            "\"Tower\": (20, 20) }",
            "\"Tower\": (20, 20), \"Second\": 10 }, \"Second\": { \"Tower\": (22, 22) }",
        ),
        (
            "volume_yd3: 600, spacing_min: 15, gap_min: 20",
            "volume_yd3: 300, spacing_min: 6, gap_min: 10",
        ),
        ("places: 1", "places: 2"),
        (
            "position: Constant(2), discharge: Constant(10), chute_wash: Constant(3)",
            "position: Constant(0), discharge: Constant(6), chute_wash: Constant(2)",
        ),
    ];
    let scenario = read(&two);
    let asked = |backup: Option<u32>| {
        ask(&scenario, |question| {
            question.plant = Some(PlantId(0));
            question.backup = backup.map(PlantId);
            question.target = 0.9;
        })
    };
    let alone = asked(None);
    let last = |answer: &FleetAnswer| done(answer, answer.shown().sizes.last().expect("a size")).1;
    assert_eq!(last(&alone), 29.0 * 6.0, "every 12 min in place of every 6");
    let both = asked(Some(1));
    assert!(last(&both) < 40.0, "{}", last(&both));
    let sums = &both.shown().sizes.last().expect("a size").sums;
    let share = sums.loads_at[1] as f64 / sums.loads_at.iter().sum::<u64>() as f64;
    assert!(
        (0.4..0.8).contains(&share),
        "two thirds of what both give is the second's: {share}"
    );
}

/// A site that stops once in every pour, for an hour, has a gap whatever the trucks: without its own trouble there is none. Its twin that
/// never stops has none to leave out.
#[test]
fn no_truck_cures_what_the_site_does_itself() {
    let stops = [(
        "rule_book: \"none\"",
        "rule_book: \"none\", changes: (hold: 1, hold_min: Constant(60))",
    )];
    let answer = ask(&read(&stops), |_| {});
    assert!(answer.recommended().is_none());
    let without: Vec<(Trouble, f64)> = answer
        .without_trouble
        .iter()
        .map(|(trouble, no_gap)| (*trouble, no_gap.share()))
        .collect();
    assert_eq!(without, [(Trouble::Site, 1.0)]);
    assert!(ask(&read(&[]), |_| {}).without_trouble.is_empty());
}

/// Another tolerance, and another pump, in place of the order's. Trucks that leave 15 min apart and come back 65 min later bring a load
/// every 15 min but one: with five no longer than that, with four 65 − 3 × 15 = 20 min of which 10 min nothing flows, with three 35 and 25, but 60 loads 65 ÷ 3 min apart
/// are not done on their day.
/// A pump of 0.5 yd³ a minute takes 20 min a load, so that 22 min go by from load to load, and a round takes 75.
#[test]
fn tolerance_and_pump_can_be_asked_for() {
    let smallest = |change: fn(&mut FleetQuestion)| fewest(&ask(&read(&[]), change));
    let of = [
        smallest(|question| question.gap = Some(Millis::MINUTE * 8)),
        smallest(|question| question.gap = Some(Millis::MINUTE * 12)),
        smallest(|question| question.gap = Some(Millis::MINUTE * 30)),
    ];
    assert_eq!(of, [5, 4, 4]);
    let slow = ask(&read(&[]), |question| question.rate_yd3_min = Some(0.5));
    let hand = slow.shown().hand;
    assert_eq!(
        (hand.least_on_site, hand.round_trip()),
        (Millis::MINUTE * 22, Millis::MINUTE * 75)
    );
}
