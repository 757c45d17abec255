//! Counterfactuals whose effect is known on paper: every ticket read, moisture probes, drivers who are heard; and days on which
//! each of them cannot matter and changes not one byte.
//!
//! The load on paper is that of `drum/on_paper.rs`, where its numbers are worked out.

use crate::changed;
use plantday::Watch;
use plantday::engine::Luck;
use plantday::observe::{Loss, figure};
use plantday::plant::{Components, Event, MaterialStep, Observer, Plan, World};
use plantday::scenario::{self, Scenario, WhatIf};
use plantday::studies::{self, Counterfactuals, CounterfactualsQuestion};
use plantday::units::Millis;

/// One load of 10 yd³ with HRWR, everything constant; nobody reads tickets, and the slump is read at once.
const LOAD: &str = include_str!("../concrete/drum/day.ron");

fn scenario(text: &str, changes: &[(&str, &str)]) -> Scenario {
    let text = changed::changed(text, changes);
    match scenario::parse("test", &text) {
        Ok(scenario) => scenario,
        Err(faults) => panic!("{faults}"),
    }
}

fn changed(scenario: &Scenario, change: WhatIf, replications: u64) -> Counterfactuals {
    let question = CounterfactualsQuestion {
        rule: 0,
        changes: vec![change],
        prices: Vec::new(),
        replications,
        seed: 1,
        threads: None,
        level: 0.95,
    };
    let answer = studies::counterfactuals(scenario, &question, Watch::default());
    let answer = answer.expect("an answer");
    assert_eq!(answer.cases, [change], "it applies");
    answer
}

/// A figure's sum over all replications, as it is and changed.
fn sums(answer: &Counterfactuals, figure: usize) -> [f64; 2] {
    [0, 1].map(|case| answer.rows.values(case, figure).sum())
}

#[track_caller]
fn near(found: f64, expected: f64, slack: f64) {
    assert!((found - expected).abs() <= slack, "{found} for {expected}");
}

/// Every figure of every replication is the same, those of queues too.
#[track_caller]
fn not_one_byte(scenario: &Scenario, change: WhatIf) {
    let answer = changed(scenario, change, 12);
    for replication in answer.rows.replications() {
        let bits = |case| -> Vec<u32> {
            let row = answer.rows.row(case, replication);
            row.iter().map(|value| value.to_bits()).collect()
        };
        assert_eq!(bits(0), bits(1), "{change:?}, replication {replication}");
    }
    assert!(!answer.changes[0].worth.told_apart());
}

/// Drivers who read a ticket know what HRWR on it means.
const KNOWS: (&str, &str) = ("tickets: (read: 0)", "tickets: (read: 0, knows: 1)");
const ON_TIME: (&str, &str) = ("W\", site", "W\", late_min: 0, site");

/// Misread, the load is watered, dried up and 9 min 50 s late; read, it is on site at 07:00 with 7.47 in at the rack. Saved are
/// 798.9 lb of cement at 7 cents, 2,926.2 lb of fine aggregate at 1 cent, 1.1195 yd³ dumped at $40, 9 min 50 s of driver and
/// truck at $27 and $25 an hour, and a late load at $100 and $6 for each of its 9 min 50 s.
#[test]
fn a_ticket_that_is_read_saves_the_dry_up() {
    let money = (
        "rules: [",
        "money: (late_per_load: 100, late_per_min: 6), rules: [",
    );
    let misread = scenario(LOAD, &[KNOWS, ON_TIME, money]);
    let answer = changed(&misread, WhatIf::EveryTicketRead, 2);
    for (figure, gone) in [
        (figure::WET_AT_RACK, 1.0),
        (figure::WATERED, 1.0),
        (figure::DRY_UPS, 1.0),
        (figure::LATE_LOADS, 1.0),
        (figure::DRY_UP_COST, 55.92 + 29.26),
        (figure::PARTS_DUMPED_YD3, 1.1195),
    ] {
        let [as_it_is, read] = sums(&answer, figure);
        near(as_it_is, 2.0 * gone, 0.05);
        assert_eq!(read, 0.0);
    }
    let change = &answer.changes[0];
    assert_eq!(
        (change.late_loads.mean, change.late_loads.share),
        (1.0, Some(1.0))
    );
    let minutes = 9.0 + 50.0 / 60.0;
    // An order's first load costs twice as much a minute, and an hour's pay its employer's taxes (26 USC 3111).
    let late = 100.0 + 12.0 * minutes;
    let worth = 85.18 + 40.0 * 1.1195 + 27.0 * 1.0765 * minutes / 60.0 + late;
    near(change.worth.mean, worth, 0.15);
}

/// Nobody looks again, and the site turns the wet load away: made again, it is as wet, until the plant closes. Read, it is taken.
#[test]
fn a_ticket_that_is_read_saves_loads_rejected_on_site() {
    let unseen = scenario(
        LOAD,
        &[
            KNOWS,
            ("looks_again: 1", "looks_again: 0"),
            ("by_eye_in: 11", "by_eye_in: 0"),
        ],
    );
    let answer = changed(&unseen, WhatIf::EveryTicketRead, 1);
    let [rejected, read] = sums(&answer, figure::WET_ON_SITE);
    assert!(rejected >= 2.0 && read == 0.0, "{rejected} {read}");
    assert_eq!(answer.ledger.loss(0, Loss::WetOnSite).size(), rejected);
    let dumped = answer.changes[0].dumped_yd3;
    assert_eq!((dumped.mean, dumped.share), (10.0 * rejected, Some(1.0)));
    let undelivered = answer.changes[0].undelivered;
    assert_eq!((undelivered.mean, undelivered.share), (1.0, Some(1.0)));
}

/// Two drivers and two loads; the house reads every ticket, one of the two drivers none: one load of two is misread.
#[test]
fn so_does_a_driver_who_reads_tickets_like_the_others() {
    let careless = scenario(
        LOAD,
        &[
            ("tickets: (read: 0)", "tickets: (read: 1, knows: 1)"),
            ("(name: \"T\", home", "(name: \"T\", count: 2, home"),
            ("volume_yd3: 10", "volume_yd3: 20"),
            (
                "[(name: \"D\", trucks: \"T\", report: \"05:30\")]",
                "[(name: \"C\", trucks: \"T1\", report: \"05:30\"), \
                 (name: \"D\", trucks: \"T2\", report: \"05:30\", care: 0)]",
            ),
        ],
    );
    let answer = changed(&careless, WhatIf::EveryTicketRead, 1);
    assert_eq!(sums(&answer, figure::LOADS), [2.0, 2.0]);
    assert_eq!(sums(&answer, figure::DRY_UPS), [1.0, 0.0]);
    assert_eq!(sums(&answer, figure::WET_AT_RACK), [1.0, 0.0]);
}

/// Shares in place of concrete: every reading wrong, every wet load found at the rack, and no room for a dry-up. The load of
/// 10 yd³ is made again and again until the plant closes; no load is misread with every ticket read.
#[test]
fn where_shares_stand_for_concrete_no_load_is_misread() {
    let begins = LOAD.find("    // See").expect("the day says where");
    let ends = LOAD.find("    rules:").expect("the day has rules");
    let shares = format!(
        "{}concrete: (rack: (misread: 1, misread_if_warned: 1, found: 1, dry_up_room_yd3: 1)),\n{}",
        &LOAD[..begins],
        &LOAD[ends..]
    );
    let answer = changed(&scenario(&shares, &[]), WhatIf::EveryTicketRead, 1);
    let [again, read] = sums(&answer, figure::REBATCHED);
    assert!(again >= 2.0 && read == 0.0, "{again} {read}");
    let dumped = answer.changes[0].dumped_yd3;
    assert_eq!((dumped.mean, dumped.share), (10.0 * again, Some(1.0)));
    assert_eq!(answer.changes[0].undelivered.mean, 1.0);
}

/// With all the luck of meter, moisture, weather and site: nobody has to know of HRWR that is not there, goes in on site, or is
/// mixed in by the time the rule has the slump read; and who reads a ticket that says nothing to the driver waits no longer.
#[test]
fn tickets_that_cannot_matter() {
    let luck = [
        ("meter: (sd_in: 0)", "meter: (sd_in: 0.5)"),
        (
            "(fine_sd: 0, coarse_sd: 0)",
            "(fine_sd: 0.01, coarse_sd: 0.002)",
        ),
        ("tested: 0, by_eye_in: 11", "tested: 0.5, by_eye_in: 1"),
        ("volume_yd3: 10", "volume_yd3: 50"),
    ];
    for cannot in [
        ("hrwr_lb: 3.5384496, ", ""),
        (
            "read_after: Minutes(0)",
            "read_after: Minutes(0), hrwr: OnSite",
        ),
        ("read_after: Minutes(0)", "read_after: Minutes(5)"),
        ("read_after: Minutes(0)", "read_after: Revolutions(60)"),
        ("tickets: (read: 0)", "tickets: (read: 0, knows: 0)"),
    ] {
        let day = scenario(LOAD, &[&luck[..], &[cannot]].concat());
        not_one_byte(&day, WhatIf::EveryTicketRead);
    }
    // And where one of these is not so, it does.
    let answer = changed(&scenario(LOAD, &luck), WhatIf::EveryTicketRead, 12);
    let [as_it_is, read] = sums(&answer, figure::WATERED);
    assert!(read < as_it_is, "{read} {as_it_is}");
}

/// What was batched, lb, load by load.
#[derive(Default)]
struct Batched(Vec<[f64; 6]>);

impl Observer for Batched {
    fn event(&mut self, _: Millis, event: &Event) {
        if let Event::Material {
            step: MaterialStep::Batched(Components(lb)),
            ..
        } = event
        {
            self.0.push(lb.map(f64::from));
        }
    }
}

fn batched(scenario: &Scenario, replication: u64) -> Vec<[f64; 6]> {
    let plan = Plan::new(scenario);
    let mut batched = Batched::default();
    World::new(&plan).run(0, Luck::new(1, replication), &mut batched);
    batched.0
}

/// Nobody adds water; the slump is read when all HRWR is mixed in. Of the aggregates only the fine one is off.
const WET_SAND: [(&str, &str); 2] = [
    (
        "read_after: Minutes(0)",
        "read_after: Minutes(5), water_by: Nobody",
    ),
    (
        "moisture: (fine_sd: 0, coarse_sd: 0)",
        "moisture: (fine: 0.05, fine_sd: 0.03, coarse: 0, coarse_sd: 0, probe_share: 0.25)",
    ),
];

/// The bay weighs 13,848.5 × 1.05 lb of wet fine aggregate for 10 yd³ and takes 13,848.5 × 0.05 lb off the water. With a real
/// moisture of r it gets 14,540.9 ÷ (1 + r) lb of aggregate and the rest as water. A probe that leaves a quarter of the error has
/// a moisture of 0.05 + (r − 0.05) ÷ 4 in the same load; one that leaves none batches what the mix says.
#[test]
fn a_probe_leaves_its_share_of_the_aggregates_water() {
    const FINE: usize = 3;
    const WATER: usize = 2;
    let day = scenario(LOAD, &WET_SAND);
    let probed = WhatIf::MoistureProbe.apply(&day, 0).expect("it applies");
    let mut perfect = day.clone();
    let material = perfect.concrete.material.as_mut().expect("mixes");
    material.moisture.probe_share = 0.0;
    let perfect = WhatIf::MoistureProbe
        .apply(&perfect, 0)
        .expect("it applies");
    let (wet_lb, ordered_lb) = (14_540.9, 13_848.5);
    let water_lb = |r: f64| 3_120.0 + (wet_lb - wet_lb / (1.0 + r)) - 0.05 * ordered_lb;
    let mut off: f64 = 0.0;
    for replication in 0..20 {
        let [as_it_is, probed, perfect] =
            [&day, &probed, &perfect].map(|scenario| batched(scenario, replication)[0]);
        let r = wet_lb / as_it_is[FINE] - 1.0;
        near(as_it_is[WATER], water_lb(r), 0.5);
        if r > 0.0 {
            // Not cut off at bone dry.
            let left = 0.05 + (r - 0.05) / 4.0;
            near(probed[FINE], wet_lb / (1.0 + left), 0.5);
            near(probed[WATER], water_lb(left), 0.5);
        }
        near(perfect[FINE], ordered_lb, 0.5);
        near(perfect[WATER], 3_120.0, 0.1);
        off = off.max((as_it_is[WATER] - 3_120.0).abs());
        for same in [0, 1, 4, 5] {
            assert_eq!(as_it_is[same], probed[same]);
        }
    }
    assert!(off > 300.0, "{off} lb");
}

/// Without error the meter shows 7.475 in, 8.4421 gal; 9.5 in, where a load is too wet, are 8.03836 − 3.19537 ln(1.5 ÷ 4) = 11.1725.
/// Each pound of water too much is a pound of sand too little: w gallons let 10 yd³ grow by w × 8.3454 × (1 − 1 ÷ 2.64) ÷ 62.4 ÷
/// 0.98 ÷ 27 = 0.003140 w yd³. (418.50 + w) ÷ (10 + 0.003140 w) − 41.850 = 11.1725 − 8.4421 makes w 31.75 gal, 264.9 lb: a moisture
/// of 7.05 %, 0.68 standard deviations too much, which one load in four has. With a probe that leaves a quarter of the error it
/// would take 2.7 of them.
#[test]
fn with_a_probe_no_load_is_wet_by_its_aggregates() {
    let day = scenario(LOAD, &WET_SAND);
    let n = 40;
    let answer = changed(&day, WhatIf::MoistureProbe, n);
    let mut wet = 0;
    for (replication, found) in answer.rows.values(0, figure::WET_AT_RACK).enumerate() {
        let excess_lb = batched(&day, replication as u64)[0][2] - 3_120.0;
        if (excess_lb - 264.9).abs() > 2.0 {
            assert_eq!(found > 0.0, excess_lb > 264.9, "{excess_lb} lb");
        }
        wet += u32::from(found > 0.0);
    }
    assert!((4..=17).contains(&wet), "{wet} of {n}");
    let [as_it_is, probed] = sums(&answer, figure::WET_AT_RACK);
    assert!(
        as_it_is >= f64::from(wet) && probed == 0.0,
        "{as_it_is} {probed}"
    );
    let [as_it_is, probed] = sums(&answer, figure::DRY_UPS);
    assert!(as_it_is > 0.0 && probed == 0.0, "{as_it_is} {probed}");
}

/// A probe where none is needed: bins that have one, no error, a probe that tells nothing. Where it may be had and no reading
/// sees the error, of half a pound of water in a thousand of sand, it changes nothing but the masses.
#[test]
fn probes_that_cannot_matter() {
    for (change, why) in [
        (
            ("read_after: Minutes(0)", "probe: true"),
            "the bins have them",
        ),
        (KNOWS, "a probe would tell nothing new"),
        (
            ("(fine_sd: 0, coarse_sd: 0)", "(probe_share: 1)"),
            "a probe would tell nothing new",
        ),
    ] {
        let day = scenario(LOAD, &[change]);
        assert_eq!(WhatIf::MoistureProbe.apply(&day, 0).err(), Some(why));
    }
    let day = scenario(
        LOAD,
        &[
            WET_SAND[0],
            ("fine_sd: 0,", "fine_sd: 0.0005,"),
            ("volume_yd3: 10", "volume_yd3: 50"),
        ],
    );
    not_one_byte(&day, WhatIf::MoistureProbe);
}

/// Window to 08:00 for D1 and D2, who report at 05:30. Loading 6, rack 4, out 20, discharge 10, chute wash 5, back 18: load 1
/// goes at 06:30, load 2 at 07:00. Nothing costs anything but late loads and the stranded.
const HOURS: &str = r#"(
    name: "paper day",
    rule_book: DutyWindow(hours: 2.5),
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 3, home: "P")],
    drivers: [(name: "D", count: 2, trucks: "T", report: "05:30"), (name: "L", trucks: "T3", report: "07:05")],
    orders: [(name: "W", site: "A", first: "07:00", volume_yd3: 20, spacing_min: 30,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    money: (pay_per_h: 0, gap_per_min: 0, truck_per_duty_h: 0, truck_per_driven_h: 0, crew_per_open_h: 0, material_per_yd3: 0,
        dumped_per_yd3: 0, late_per_load: 60, late_per_min: 3, undelivered_per_yd3: 0, stranded: 450),
    rules: [(name: "R", belief: FreeFlow, drivers_word: Overruled)],
)"#;

/// D2 says that the way home from load 2, from 07:45 to 08:03, will not fit. Overruled, D2 is stranded on site. Heard, the load
/// waits for L, ready at 07:20: on site at 07:50, 20 min late, five of them beyond the order's tolerance, and L is home at 08:23.
#[test]
fn a_driver_who_is_heard_is_not_stranded() {
    for book in [
        "rule_book: DutyWindow(hours: 2.5)",
        "rule_books: [(name: \"short\", like: \"none\", rest_h: 10, window_h: 2.5)], rule_book: \"short\"",
    ] {
        for word in ["Overruled", "NotAsked"] {
            let short = scenario(
                HOURS,
                &[
                    ("rule_book: DutyWindow(hours: 2.5)", book),
                    ("Overruled", word),
                ],
            );
            let answer = changed(&short, WhatIf::DriversWord, 2);
            let overruled = f64::from(word == "Overruled");
            assert_eq!(
                answer.ledger.loss(0, Loss::StrandedOverridden).size(),
                overruled
            );
            let change = &answer.changes[0];
            assert_eq!(
                (change.stranded.mean, change.stranded.share),
                (1.0, Some(1.0))
            );
            assert_eq!(change.late_loads.mean, -1.0, "one more");
            assert_eq!(change.undelivered.mean, 0.0);
            assert_eq!(sums(&answer, figure::LOADS), [4.0, 4.0]);
            assert_eq!(change.worth.mean, 450.0 - (60.0 + 3.0 * 5.0));
        }
    }
}

/// Whose way home always fits has nothing to say: a window of 14 hours, roads with luck.
#[test]
fn words_that_cannot_matter() {
    for book in [
        "rule_book: DutyWindow(hours: 14)",
        "rule_books: [(name: \"long\", like: \"none\", rest_h: 10, window_h: 14)], rule_book: \"long\"",
    ] {
        for word in ["Overruled", "NotAsked"] {
            let long = scenario(
                HOURS,
                &[
                    ("rule_book: DutyWindow(hours: 2.5)", book),
                    ("Overruled", word),
                    (
                        "{ \"P\": { \"A\": (20, 18) } }",
                        "{ \"P\": { \"A\": (20, 18) } }, luck: Lognormal(mean: 1, cv: 0.3)",
                    ),
                    ("volume_yd3: 20", "volume_yd3: 90"),
                ],
            );
            not_one_byte(&long, WhatIf::DriversWord);
        }
    }
}
