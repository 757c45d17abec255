//! Random small scenarios as text: one to three plants, a handful of trucks and orders, every choice of every decision.

use proptest::prelude::*;
use proptest::sample::select;

fn plant(n: usize) -> impl Strategy<Value = String> {
    (
        select(vec!["", "hours: [(open: \"05:00\", close: \"12:00\")],", "hours: [(open: \"05:00\", close: \"09:30\"), (open: \"11:00\", close: \"18:00\")],"]),
        1..3_u32,
        select(vec!["PerBay", "Shared"]),
        select(vec!["ByRule", "FirstCome"]),
        select(vec!["0", "1.5"]),
        select(vec![
            "",
            "rack_places: 1,",
            "outages: (mean_h_between: 8, minutes: Lognormal(mean: 40, cv: 0.8)), planned_outages: [(from: \"08:00\", to: \"09:10\")],",
        ]),
    )
        .prop_map(move |(hours, bays, batcher, queue, pull_in, rack)| {
            format!(
                "(name: \"P{n}\", at: ({n}, 0), {hours} bays: {bays}, batcher: {batcher}, bay_queue: {queue}, pull_in_min: {pull_in}, \
                 loading: PerYard(fixed_min: 1, min_per_yd3: 0.5, luck: Lognormal(mean: 1, cv: 0.3)), {rack} rack: Triangular(2, 5, 10)),"
            )
        })
}

fn order(n: usize) -> impl Strategy<Value = String> {
    (
        (0..3_u32, 1..3_u32, 4..20_u32, 0..60_u32, 1..70_u32, select(vec!["0", "5", "12", "20", "45"])),
        (
            select(vec!["(rate_yd3_min: 1)", "(rate_yd3_min: 0.7, places: 2)", "(rate_yd3_min: 1), (rate_yd3_min: 0.5, places: 2)"]),
            select(vec!["", "waiting_room: 0,", "waiting_room: 1,"]),
            select(vec!["", "setup_min: 25,"]),
            select(vec!["10", "7.5", "6"]),
            select(vec![
                "",
                "finish_by: \"21:00\",",
                "outdoor: true, chance: 0.6,",
                "called: \"09:00\",",
            ]),
        ),
    )
        .prop_map(move |((site, day, hour, minute, volume, spacing), (outlets, room, setup, load, finish))| {
            let usual = if n == 1 { "plant: \"P0\"," } else { "" };
            let aged = if n == 3 {
                "age_limit_min: 55, age_waived_share: 0.5, stabilizer: (min: 10, per_yd3: 4.5),"
            } else {
                ""
            };
            format!(
                "(name: \"O{n}\", site: \"S{site}\", day: {day}, first: \"{hour:02}:{minute:02}\", volume_yd3: {volume}, \
                 load_yd3: {load}, spacing_min: {spacing}, outlets: [{outlets}], {room} {setup} {finish} {usual} {aged}),"
            )
        })
}

fn rule(n: usize) -> impl Strategy<Value = String> {
    (
        select(vec!["StraightLine", "FreeFlow", "TimeOfDay", "TimeOfDay(quantile: 0.9)"]),
        select(vec!["AsOrdered", "Paced"]),
        select(vec!["EarliestDue", "RunningPoursFirst", "BiggestFirst"]),
        select(vec!["Nearest", "LongestIdle", "SoonestOnSite", "FewestHours", "Seniority", "Cheapest"]),
        select(vec!["", "LastLoadBy(hours: 6)", "HomeWithin(probability: 0.9)", "LastLoadBy(hours: 8), HomeWithin(probability: 0.6)"]),
        select(vec!["Never", "Always", "IfSaves(minutes: 5)"]),
        select(vec!["FullThenRemainder", "Equal"]),
        select(vec![
                "0",
                "0.5, yard: (warning: OnAdmixture), retrieval: Fetch",
                "0.4, yard: (warning: OnEverything, read_after: Revolutions(30), most_gal_yd3: 8)",
                "0, yard: (read_after: Minutes(0), water_by: Driver, most_gal_yd3: 12, probe: true)",
                "0, yard: (water_by: Batcher, hrwr: OnSite)",
                "0, yard: (water_by: Nobody)",
        ]),
        (
            select(vec!["Rostered", "Staggered", "Staggered(minutes: 25)", "Matched", "Matched(spare: 1)"]),
            select(vec!["ShiftEnd", "ShiftEnd", "FirstInFirstOut", "LongestDay(hold: 1)", "Seniority(hold: 2)"]),
            select(vec!["HomePlant", "NearestPlant", "MostWork"]),
            select(vec!["Never", "IfLate(minutes: 25)", "Share(0.4)"]),
            select(vec!["NotAsked", "Heard", "Overruled"]),
            select(vec!["TakeAll", "OnlyIfHolds", "FirstFreeTime(hours: 12)"]),
            select(vec!["AsPosted", "KeptOpen(hours: 1.5)"]),
            select(vec!["Wait", "SameMix(wait_min: 1)"]),
        ),
    )
        .prop_map(move |(belief, send, sequence, choose, gates, lend, size, room, (shift, home, after, gate, word, added, hours, wait))| {
            let gate = if gates.is_empty() { "Never" } else { gate };
            let plants = ["Any", "NearestFirst(late_min: 20)", "UsualFirst(late_min: 10)"][n % 3];
            // Only who lends may head for another plant.
            let after = if lend == "Never" { "HomePlant" } else { after };
            format!(
                "(name: \"R{n}\", belief: {belief}, send: {send}, sequence: {sequence}, choose: {choose}, plants: {plants}, gates: [{gates}], \
                 lend: {lend}, load_size: {size}, bay_wait_min: 0, room_kept_yd3: {room}, \
                 shift: {shift}, send_home: {home}, after_discharge: {after}, override_gates: {gate}, drivers_word: {word}, additions: {added}, plant_hours: {hours}, redirect: {wait}),"
            )
        })
}

/// A mix with HRWR, tickets that nobody reads.
const MIXES: &str = r#"
    mixes: [(name: "standard", cement_lb: 589.68, water_lb: 312, coarse_lb: 1672.32, hrwr_lb: 3.5384, slump_in: 6, specified_psi: 4000)],
    moisture: (fine_sd: 0.01, coarse_sd: 0.005), tickets: (read: 0.3), corrections: (dump_yd3: 0.6),"#;

/// The same, with a dry-up for many loads, and what comes back goes under the next.
const MIXES_REUSED: &str = r#"
    mixes: [(name: "standard", cement_lb: 589.68, water_lb: 312, coarse_lb: 1672.32, hrwr_lb: 3.5384, slump_in: 6, specified_psi: 4000)],
    age_limit_min: 200, reuse: (age_limit_min: 170, share: 0.9),
    moisture: (fine_sd: 0.01, coarse_sd: 0.005), tickets: (read: 0.3), corrections: (dump_yd3: 0.6),"#;

/// A hot day, a mix without HRWR and with water to spare, a site that tests every load, cement only.
const MIXES_IN_HEAT: &str = r#"
    mixes: [(name: "standard", cement_lb: 564, binder_lb: 60, water_lb: 282, coarse_lb: 1800, slump_in: 4, specified_psi: 4500, most_wc: 0.55,
        air: 5, strength: AciAirEntrained, retarder: true, binder_counts: 1)],
    sensitivity: (air_per_gal: 1, strength_per_18_f: 0.05), concrete_per_air_f: 0.7,
    temperature: Daily(mean_f: 88, swing_f: 12), temperature_sd_f: 6, age: "retarder_120", waiver: true, revolution_limit: 250,
    on_site: (tested: 1, air_sd: 1, wrong_mix: 0.05), corrections: (with: CementOnly, wait_min: 20),"#;

/// Any small scenario.
pub(crate) fn any_scenario() -> impl Strategy<Value = String> {
    let plants = (1..4_usize).prop_flat_map(|count| (0..count).map(plant).collect::<Vec<_>>());
    let orders = (1..6_usize).prop_flat_map(|count| (0..count).map(order).collect::<Vec<_>>());
    let rules = (0..3).map(rule).collect::<Vec<_>>();
    let book = select(vec![
        "\"none\"",
        "DutyWindow(hours: 6, rest_hours: 9)",
        "DutyWindow(hours: 7, rest_hours: 8)",
        "DutyWindow(hours: 10)",
        "DutyWindow(hours: 14)",
    ]);
    let company = select(vec![
        "",
        "no_load_after_h: 8,",
        "promise_horizon_min: 0,",
        "latest_report_h: 1, no_load_after_h: 5,",
    ]);
    let concrete = select(vec![
        "age_limit_min: None,",
        "age_limit_min: 60,",
        "age_limit_min: 90, rack: (misread: 0.5, found: 0.6, dry_up_room_yd3: 0.4),",
        MIXES,
        MIXES_IN_HEAT,
        "age_limit_min: 150, reuse: (age_limit_min: 120, share: 0.9),",
        MIXES_REUSED,
    ]);
    let changes = select(vec![
        "",
        "no_show: 0.3, cancelled: 0.2, not_ready: 0.5",
        "rain: 0.5, not_ready: 1, phones_ahead: 0.6, phones_ahead_min: 40, absent: 0.2, empty_seats: 0.2",
        "rain: 0.5, rain_slows: 1.3, pace: Lognormal(mean: 1, cv: 0.3), hold: 0.5",
        "returned: 0.6, returned_yd3: Triangular(0.2, 0.5, 9), hold: 1, not_ready: 0.3, balance: 0.6",
        "balance: 1, balance_yd3: Uniform(0, 25), not_ready: 0.3, cancelled: 0.1",
    ]);
    let endless = select(vec![
        "",
        "(name: \"E\", destinations: [(site: \"S0\"), (site: \"S1\")]),",
        "(name: \"E\", arrivals: Exponential(40), to: Drawn, destinations: [(site: \"S0\"), (site: \"S2\", share: 2)]),",
    ]);
    let fleet = (
        1..5_u32,
        1..4_u32,
        4..8_u32,
        0..40_u32,
        select(vec!["6", "9", "12"]),
        any::<bool>(),
        any::<bool>(),
    );
    let book = (book, concrete, changes);
    (plants, orders, rules, book, company, endless, fleet).prop_map(
        |(plants, orders, rules, (book, concrete, changes), company, endless, (trucks, days, hour, stagger, shift, parking, relief))| {
            let road = |from: usize| {
                let sites: String = (0..3).map(|to| format!("\"S{to}\": ({}, {}), ", 12 + 9 * to + 7 * from, 10 + 8 * to + 6 * from)).collect();
                let others: String = (from + 1..plants.len()).map(|to| format!("\"P{to}\": {}, ", 15 + 5 * to)).collect();
                format!("\"P{from}\": {{ {sites} {others} }}, ")
            };
            let roads: String = (0..plants.len()).map(road).collect();
            let breaks = if stagger % 3 == 0 {
                ", breakdowns: (mean_h_between: 3, minutes: Lognormal(mean: 50, cv: 0.8))"
            } else {
                ""
            };
            let fleet: String = (0..plants.len())
                .map(|home| format!("(name: \"T{home}\", count: {trucks}, home: \"P{home}\", capacity_yd3: {}, legal_gross_lb: 66000{breaks}),", 10 - home))
                .collect();
            // A second driver may wait for a truck that is still out, and a third.
            let second = if relief {
                "(name: \"L\", count: 1, trucks: \"T0\", report: \"18:00\", shift_h: 6), (name: \"M\", count: 1, trucks: \"T0\", report: \"00:15\", shift_h: 3),"
            } else {
                ""
            };
            let shift = if relief { "9" } else { shift };
            // Some have guaranteed hours of their own, some are hired with their trucks.
            let own = match stagger % 4 {
                1 => ", guaranteed_h: 7",
                3 => ", hauler_per_h: 80, hauler_least_h: 5",
                _ => "",
            };
            let drivers: String = (0..plants.len())
                .map(|home| format!("(name: \"D{home}\", count: {trucks}, trucks: \"T{home}\", report: \"{hour:02}:00\", stagger_min: {stagger}, shift_h: {shift}{own}),"))
                .collect();
            let days = days.max(2);
            // What is paid beyond the hours of a day, and whether drivers are called off.
            let money = [
                "",
                "guaranteed_day_h: 5, show_up: (share: 0.6)",
                "guaranteed_week_h: 30, overtime_after_week_h: 14, call_out_min_h: 3, workweek: Sunday",
                "guaranteed_week_h: 20, guaranteed_day_h: 3, overtime_after_week_h: 20, show_up: ()",
            ][(stagger % 4) as usize];
            let call_off = stagger % 2 == 1;
            // What the desk reckons with for the bay, in minutes.
            let bay_wait = [0, 3, 12][(stagger / 3 % 3) as usize];
            let rules = rules.concat().replace("bay_wait_min: 0", &format!("bay_wait_min: {bay_wait}"));
            format!(
                r#"(
    name: "random",
    period: (first_day: Friday, days: {days}),
    rule_book: {book},
    company: ({company} call_off: {call_off}),
    money: ({money}),
    concrete: ({concrete}),
    changes: ({changes}),
    helpers: [(name: "H", at: "P0", from: "08:00", to: "21:00")],
    plants: [{}],
    sites: [(name: "S0"), (name: "S1", at: (3, 4), parking: {parking}), (name: "S2", at: (5, 1))],
    roads: (minutes: {{ {roads} }}, luck: Lognormal(mean: 1, cv: 0.4),
        traffic: [(days: [Friday], factors: [("07:00", 1.6), ("10:00", 1.0), ("16:00", 2.0), ("19:00", 1.0)])]),
    trucks: [{fleet}],
    drivers: [{drivers} {second}],
    orders: [{}],
    drawn: [(name: "few", per_day: Poisson(1.2), first: ("06:00", "15:00"), volume_yd3: Uniform(1, 30), spacing_min: 12, site: "S1")],
    endless: [{endless}],
    rules: [{}],
)"#,
                plants.concat(),
                orders.concat(),
                rules,
            )
        },
    )
}

/// Rule books of many clocks, tight enough to bind in a day.
const CLOCKS: &str = r#"rule_books: [
        (name: "tight", like: "us_property_2013", driving_h: 3, window_h: 8, rest_h: 8, break_after_h: 2.5, cycle: "22/7", restart_h: 20),
        (name: "strict", like: "us_property_2013_strict", driving_h: 2.5, window_h: 9, break_after_h: 3, cycle: "30/3"),
        (name: "by day", like: "ca_federal_south60", driving_h: 3, on_duty_h: 7, cycle: "24/7"),
        (name: "driven", like: "us_property_2020", driving_h: 4, window_h: 6, long_day_h: 7, break_after_h: 1, work_is_break: false),
        (name: "no limit of the day", like: "none", rest_h: 6, cycle: "14/4", day_start: "06:00", restart_h: 12),
    ],"#;

/// The same with drivers whose clocks are carried along, and every kind of retrieval.
pub(crate) fn with_clocks() -> impl Strategy<Value = String> {
    let book = select(vec![
        "tight",
        "strict",
        "by day",
        "driven",
        "no limit of the day",
        "us_property_2020",
        "us_property_2013",
        "us_intrastate_tx",
        "ca_federal_south60",
    ]);
    let retrieval = select(vec![
        "RestOut",
        "Fetch",
        "Fetch(foreseen: true)",
        "Fetch(own_drivers: true)",
        "Fetch(not_between: (\"12:00\", \"15:00\"), own_drivers: true, foreseen: true)",
        "Fetch(waits: true)",
        "FetchDriver",
        "FetchDriver(foreseen: true)",
    ]);
    let gates = select(vec![
        "",
        "KeepMinutes(minutes: 20)",
        "Reserve(hours: 2)",
        "HomeWithin(probability: 0.8), KeepMinutes(minutes: 5)",
    ]);
    let company = select(vec![
        "",
        "finish_within_h: 7, stranded_drive_car: false,",
        "most_days_in_row: 1, relief: true,",
        "relief: true, stabiliser_h: 12, least_week_h: 3,",
    ]);
    let history = select(vec![
        "",
        ", history: (hours: [8, 6, 0, 4], released_h_before: 9)",
        ", history: (hours: [0, 9.5], last_long_day: 2)",
        ", history: (tours_ended_home: [false])",
    ]);
    (any_scenario(), book, retrieval, gates, company, history, any::<bool>()).prop_map(
        |(text, book, retrieval, gates, company, history, long_day)| {
            let from = text.find("rule_book: ").expect("there is one");
            let to = from + text[from..].find('\n').expect("the line ends");
            let text = format!("{}{CLOCKS} rule_book: \"{book}\",{}", &text[..from], &text[to..]);
            text.replace("retrieval: Fetch, ", "").replace(
                "room_kept_yd3: 0",
                &format!("retrieval: {retrieval}, long_day: {long_day}, room_kept_yd3: 0"),
            )
            .replace("gates: []", &format!("gates: [{gates}]"))
            .replace("company: (", &format!("company: ({company}"))
            .replace("from: \"08:00\", to: \"21:00\")", &format!("from: \"08:00\", to: \"21:00\", rule_book: \"{book}\"), (name: \"H2\", at: \"P0\", from: \"06:00\", to: \"23:00\", class: Ordinary)"))
            .replace("home: \"P0\",", "home: \"P0\", needs: (class: B),")
            .replace("shift_h: 6)", &format!("shift_h: 6{history})"))
            .replace("shift_h: 9)", &format!("shift_h: 9{history})"))
            .replace("shift_h: 12)", &format!("shift_h: 12{history})"))
        },
    )
}
