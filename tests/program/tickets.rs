//! Past tickets: what a replay writes gives back the spreads that it was simulated with; disturbed files tell what their undisturbed twins
//! do; hand-made tickets have their truth by hand.

use assert_cmd::cargo::cargo_bin_cmd;
use plantday::Watch;
use plantday::report::tickets::table;
use plantday::scenario::past_tickets::{PastTickets, Stamp, Ticket, parse};
use plantday::scenario::{Scenario, parse as scenario};
use plantday::studies::tickets::{
    Check, CheckQuestion, Compared, FittedLeg, Leg, Measure, Part, Stage, Standing, TicketFits,
    TicketsOf, TicketsQuestion, check, fit_tickets, written,
};
use plantday::units::Millis;
use std::fs;
use std::path::Path;

/// Every stage has a spread of its own, of another family where a scenario may.
pub(crate) const KNOWN: &str = r#"(
    name: "known spreads", rule_book: "none", period: (first_day: "2026-06-08"),
    plants: [
        (name: "North", bays: 2, loading: PerYard(fixed_min: 1.5, min_per_yd3: 0.45, luck: Lognormal(mean: 1, cv: 0.25)), rack: Triangular(2, 5, 10)),
        (name: "Quay", bays: 2, loading: PerYard(fixed_min: 2.5, min_per_yd3: 0.3, luck: Gamma(mean: 1, cv: 0.3)), rack: Weibull(mean: 4, shape: 2.5)),
    ],
    sites: [(name: "Tower"), (name: "Lock"), (name: "Weir")],
    roads: (
        minutes: { "North": { "Tower": (18, 15), "Lock": 33, "Weir": 24, "Quay": 30 }, "Quay": { "Tower": 41, "Lock": (12, 11), "Weir": 26 } },
        luck: Lognormal(mean: 1, cv: 0.2),
        traffic: [(factors: [("00:00", 1.2), ("08:00", 1.5), ("10:00", 1.0), ("15:00", 1.35)])],
    ),
    trucks: [(name: "N", count: 10, home: "North"), (name: "Q", count: 8, home: "Quay")],
    drivers: [(name: "n", trucks: "N", report: "05:00", shift_h: 14), (name: "q", trucks: "Q", report: "05:00", shift_h: 14)],
    orders: [
        (name: "Core", site: "Tower", first: "06:30", volume_yd3: 196, spacing_min: 20, outlets: [(rate_yd3_min: 1.4)],
            position: Gamma(mean: 3, cv: 0.4), discharge_luck: Lognormal(mean: 1, cv: 0.35), chute_wash: Uniform(3, 9)),
        (name: "Chamber", site: "Lock", first: "06:45", volume_yd3: 155, spacing_min: 25, load_yd3: 8, outlets: [(rate_yd3_min: 0.9)],
            position: Gamma(mean: 3, cv: 0.4), discharge_luck: Lognormal(mean: 1, cv: 0.35), chute_wash: Uniform(3, 9)),
        (name: "Sill", site: "Weir", first: "07:00", volume_yd3: 93, spacing_min: 45, load_yd3: 6,
            position: Gamma(mean: 3, cv: 0.4), discharge_luck: Lognormal(mean: 1, cv: 0.35), chute_wash: Uniform(3, 9)),
    ],
    rules: [(name: "As today", belief: FreeFlow, choose: Nearest, lend: Always)],
)"#;

fn known() -> Scenario {
    scenario("known.ron", KNOWN).unwrap_or_else(|faults| panic!("{faults}"))
}

fn written_by(scenario: &Scenario, runs: u64) -> Vec<Ticket> {
    let of = TicketsOf {
        rule: 0,
        replications: 0..runs,
        seed: 11,
    };
    written(scenario, &of)
}

fn read(bytes: impl Into<Vec<u8>>) -> PastTickets {
    parse("t.csv", bytes.into(), None).unwrap_or_else(|faults| panic!("{faults}"))
}

fn fitted(tickets: &PastTickets) -> TicketFits {
    fit_tickets(tickets, &TicketsQuestion::default())
}

fn leg<'a>(fits: &'a TicketFits, leg: Leg, plant: Option<&str>) -> &'a FittedLeg {
    let mut all = fits.legs.iter();
    let found = all.find(|one| one.leg == leg && one.plant.as_deref() == plant);
    found.unwrap_or_else(|| panic!("no {leg:?} {plant:?}"))
}

/// The value of a part, and its standard error.
fn number(leg: &FittedLeg, part: &Part) -> (f64, f64) {
    let found = leg.found.as_ref().expect("found");
    let number = found.parameters.iter().find(|one| one.part == *part);
    let number = number.unwrap_or_else(|| panic!("no {part:?} in {:?}", found.parameters));
    (number.value, number.error.unwrap_or(0.0))
}

fn rate(site: &str, order: &str) -> Part {
    Part::Rate(vec![site.into(), order.into()])
}

fn way(from: &str, to: &str) -> Part {
    Part::Way(from.into(), to.into())
}

/// Written to the millisecond and read again, tickets are the same to the last digit.
#[test]
fn what_a_replay_writes_is_read_again() {
    let scenario = known();
    let tickets = written_by(&scenario, 3);
    let again = read(table(&tickets, scenario.period.first_date));
    assert!(tickets.len() > 100);
    assert_eq!(again.tickets, tickets);
    assert!(again.ignored.is_empty() && again.days_told && !again.whole_minutes);
    // The same weekday of the weeks that follow.
    assert_eq!(
        tickets.last().and_then(Ticket::first).map(Millis::day),
        Some(14)
    );
    for ticket in &tickets {
        let times: Vec<Millis> = ticket.times.iter().flatten().copied().collect();
        assert_eq!(times.len(), 8, "{ticket:?}");
        assert!(times.is_sorted(), "{ticket:?}");
    }
    let undated = read(table(&tickets, None));
    assert_eq!(undated.tickets, tickets);
    assert_eq!(undated.first_date, None);
}

/// The parameters that the days were simulated with lie in the 99.9% intervals of those found (33 numbers at a fixed seed: if all is right,
/// one in thirty files would have one outside), and the family is the one that was drawn from wherever thousands of tickets tell it.
#[test]
fn simulated_tickets_give_back_the_spreads_that_they_were_drawn_from() {
    let scenario = known();
    let fits = fitted(&read(table(&written_by(&scenario, 200), None)));
    assert_eq!(fits.cleaned.left_out, [0; 4]);
    let (north, quay) = (Some("North"), Some("Quay"));
    let spread = Part::Spread;
    let truth = [
        (Leg::Loading, north, Part::Fixed, 1.5),
        (Leg::Loading, north, Part::PerYard, 0.45),
        (Leg::Loading, north, spread("cv"), 0.25),
        (Leg::Loading, quay, Part::Fixed, 2.5),
        (Leg::Loading, quay, Part::PerYard, 0.3),
        (Leg::Loading, quay, spread("cv"), 0.3),
        (Leg::Yard, north, spread("low"), 2.0),
        (Leg::Yard, north, spread("mode"), 5.0),
        (Leg::Yard, north, spread("high"), 10.0),
        (Leg::Yard, quay, spread("mean"), 4.0),
        (Leg::Yard, quay, spread("shape"), 2.5),
        (Leg::Travel, None, way("North", "Tower"), 18.0),
        (Leg::Travel, None, way("Tower", "North"), 15.0),
        (Leg::Travel, None, way("Quay", "Lock"), 12.0),
        (Leg::Travel, None, way("Lock", "Quay"), 11.0),
        (Leg::Travel, None, way("North", "Weir"), 24.0),
        (Leg::Travel, None, spread("cv"), 0.2),
        (Leg::Travel, None, Part::Hour(Millis::ZERO), 1.2),
        (Leg::Travel, None, Part::Hour(Millis::HOUR * 8), 1.5),
        (Leg::Travel, None, Part::Hour(Millis::HOUR * 10), 1.0),
        (Leg::Position, None, spread("mean"), 3.0),
        (Leg::Position, None, spread("cv"), 0.4),
        (Leg::Unloading, None, rate("Tower", "Core"), 1.4),
        (Leg::Unloading, None, rate("Lock", "Chamber"), 0.9),
        (Leg::Unloading, None, rate("Weir", "Sill"), 1.0),
        (Leg::Unloading, None, spread("cv"), 0.35),
    ];
    let mut off = Vec::new();
    for (of, plant, part, truth) in truth {
        let (value, error) = number(leg(&fits, of, plant), &part);
        // The quietest hour is 1 by definition.
        let within = if part == Part::Hour(Millis::HOUR * 10) {
            1e-9
        } else {
            3.2905 * error
        };
        assert!(
            error < 0.1 * truth,
            "{of:?} {plant:?} {part:?}: {value} ± {error}"
        );
        if (value - truth).abs() > within {
            off.push(format!(
                "{of:?} {plant:?} {part:?}: {value} ± {error}, drawn from {truth}"
            ));
        }
    }
    assert!(off.is_empty(), "{off:#?}");
    // The ends of a uniform lie outside what was seen, by less than a thousandth of its width with this many.
    let wash = leg(&fits, Leg::Wash, None);
    for (part, end) in [("low", 3.0), ("high", 9.0)] {
        let (value, _) = number(wash, &Part::Spread(part));
        assert!((value - end).abs() < 0.01, "{part} {value}");
    }
    for (of, plant, family) in [
        (Leg::Loading, north, "Lognormal"),
        (Leg::Loading, quay, "Gamma"),
        (Leg::Yard, north, "Triangular"),
        (Leg::Yard, quay, "Weibull"),
        (Leg::Travel, None, "Lognormal"),
        (Leg::Unloading, None, "Lognormal"),
        (Leg::Wash, None, "Uniform"),
    ] {
        let found = leg(&fits, of, plant).found.as_ref().expect("found");
        let chosen = found.family.map(|family| family.name());
        assert_eq!(chosen, Some(family), "{of:?} {plant:?}");
        assert!(found.as_far > 0.001, "{of:?} {plant:?} {}", found.as_far);
    }
}

/// Headings of people's own in another order, semicolons, decimal commas, AM and PM, a mark of the encoding, Windows line ends, blank rows, a
/// note, tickets that stand twice, run backward, last a day or tell nothing: the numbers are those of the clean file.
#[test]
fn a_disturbed_file_tells_what_its_undisturbed_twin_does() {
    let scenario = known();
    let tickets = written_by(&scenario, 2);
    let clean = fitted(&read(table(&tickets, scenario.period.first_date)));
    let am_pm = |at: Option<Millis>| {
        let at = at.expect("every time is told").0.rem_euclid(Millis::DAY.0);
        let (hour, rest) = (at / 3_600_000, at % 3_600_000);
        let half = if hour < 12 { "AM" } else { "PM" };
        let shown = if hour % 12 == 0 { 12 } else { hour % 12 };
        let (minute, second, part) = (rest / 60_000, rest / 1_000 % 60, rest % 1_000);
        format!("{shown}:{minute:02}:{second:02},{part:03} {half}")
    };
    let text = |value: &Option<String>| value.clone().unwrap_or_default();
    let row = |ticket: &Ticket| {
        let day = ticket.first().map_or(0, Millis::day);
        let mut cells = vec![
            text(&ticket.driver),
            "a note".into(),
            format!("6/{}/2026", 8 + day),
            text(&ticket.back_at),
            text(&ticket.truck),
            text(&ticket.site),
            text(&ticket.order),
            text(&ticket.plant),
            ticket
                .yd3
                .map_or(String::new(), |yd3| yd3.to_string().replace('.', ",")),
        ];
        cells.extend(ticket.times.iter().map(|at| am_pm(*at)));
        cells.join(";")
    };
    let mut lines = vec![
        "Driver name;Remarks;Delivery date;Returned to;Unit;Job;Order no;Plant name;Yards;Ticket time;Loaded;To job;On job;Start pour;\
         End pour;Left job;At plant"
            .to_owned(),
    ];
    for (n, ticket) in tickets.iter().enumerate() {
        lines.push(row(ticket));
        match n % 40 {
            3 => lines.push(row(ticket)),
            7 => {
                let mut wrong = Ticket {
                    truck: Some("X1".into()),
                    ..ticket.clone()
                };
                wrong
                    .times
                    .swap(Stamp::OnSite as usize, Stamp::UnloadEnd as usize);
                lines.push(row(&wrong));
            }
            11 => {
                let mut wrong = Ticket {
                    truck: Some("X2".into()),
                    ..ticket.clone()
                };
                wrong.times[Stamp::BackAtPlant as usize] =
                    wrong.at(Stamp::LeftSite).map(|at| at + Millis::HOUR * 7);
                lines.push(row(&wrong));
            }
            13 => lines.push(";;;;;;;;;;;;;;;;".into()),
            17 => lines.push("nobody;a note;6/8/2026;;;;;;;-;;n/a;;;;;".into()),
            _ => {}
        }
    }
    let disturbed = read(format!("\u{feff}\r\n{}\r\n", lines.join("\r\n")));
    assert_eq!(disturbed.ignored, ["Remarks"]);
    let found = fitted(&disturbed);
    let times = |rest: usize| (0..tickets.len()).filter(|n| n % 40 == rest).count();
    assert_eq!(
        found.cleaned.left_out,
        [times(17), times(3), times(7), times(11)]
    );
    for (ours, theirs) in clean.legs.iter().zip(&found.legs) {
        assert_eq!(ours.n, theirs.n);
        let numbers = |leg: &FittedLeg| leg.found.as_ref().map(|found| found.parameters.clone());
        assert_eq!(numbers(ours), numbers(theirs), "{:?}", ours.leg);
    }
}

/// Loading 2 min and half a minute a yard, 4 min at the rack, 20 min out, 3 min to pull up, 1.25 yd³ a minute, 5 min of washing, 18 min
/// back. By hand, 10 yd³ from 06:00: loaded 06:07, left 06:11, on site 06:31, unloading 06:34 to 06:42, left 06:47, back 07:05.
#[test]
fn hand_made_tickets_have_their_truth_by_hand() {
    let mut text = String::from(
        "date,plant,site,order,yd3,truck,ticketed,loaded,left plant,on site,start unloading,end unloading,left site,back at plant\n",
    );
    let clock = |at: f64| {
        let seconds = (at * 60.0).round() as i64;
        format!(
            "{:02}:{:02}:{:02}",
            seconds / 3600,
            seconds / 60 % 60,
            seconds % 60
        )
    };
    for n in 0..12 {
        let yd3 = [10.0, 8.0, 5.0][n % 3];
        let mut at = 360.0 + 60.0 * n as f64;
        let mut row = format!("2026-06-08,Pier,Lock,Sill,{yd3},T{n},{}", clock(at));
        for stage in [2.0 + yd3 / 2.0, 4.0, 20.0, 3.0, yd3 / 1.25, 5.0, 18.0] {
            at += stage;
            row += &format!(",{}", clock(at));
        }
        text += &(row + "\n");
    }
    assert!(
        text.contains("T0,06:00:00,06:07:00,06:11:00,06:31:00,06:34:00,06:42:00,06:47:00,07:05:00")
    );
    let fits = fitted(&read(text.clone()));
    let near = |(value, error): (f64, f64), truth: f64| {
        assert!(
            (value - truth).abs() < 1e-9 && error < 1e-9,
            "{value} ± {error}, not {truth}"
        );
    };
    let pier = Some("Pier");
    near(number(leg(&fits, Leg::Loading, pier), &Part::Fixed), 2.0);
    near(number(leg(&fits, Leg::Loading, pier), &Part::PerYard), 0.5);
    near(
        number(leg(&fits, Leg::Yard, pier), &Part::Spread("value")),
        4.0,
    );
    near(
        number(leg(&fits, Leg::Travel, None), &way("Pier", "Lock")),
        20.0,
    );
    near(
        number(leg(&fits, Leg::Travel, None), &way("Lock", "Pier")),
        18.0,
    );
    // The first load of the order may have waited for its site.
    assert_eq!(leg(&fits, Leg::Position, None).n, 11);
    near(
        number(leg(&fits, Leg::Position, None), &Part::Spread("value")),
        3.0,
    );
    near(
        number(leg(&fits, Leg::Unloading, None), &rate("Lock", "Sill")),
        1.25,
    );
    near(
        number(leg(&fits, Leg::Wash, None), &Part::Spread("value")),
        5.0,
    );
    // A round of 5 yd³ takes 4.5 + 4 + 20 + 3 + 4 + 5 + 18 = 58.5 min, of 8 yd³ 62.4 and of 10 yd³ 65.
    let round = fits
        .stages
        .last()
        .and_then(|told| told.points)
        .expect("told");
    assert!((round[1] - 62.4).abs() < 1e-9, "{round:?}");

    // Without a column what it tells is not told, and the rest is.
    let without: String = text
        .lines()
        .map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            [&cells[..1], &cells[2..11], &cells[12..]]
                .concat()
                .join(",")
                + "\n"
        })
        .collect();
    let fewer = fitted(&read(without));
    assert_eq!(leg(&fewer, Leg::Unloading, None).n, 0);
    assert_eq!(leg(&fewer, Leg::Loading, None).n, 12);
    assert_eq!(leg(&fewer, Leg::Travel, None).n, 0);
}

/// Written in whole minutes, as most yards have them, the same tickets give the same spreads to a twentieth: without Sheppard's correction a
/// coefficient of variation of 0.25 of a stage of 6 min would be found as √(0.25² + (2/12)/6²) = 0.259, of one of 5 min as 0.263.
#[test]
fn tickets_in_whole_minutes_give_back_the_spreads_as_well() {
    let scenario = known();
    let mut tickets = written_by(&scenario, 200);
    for (nth, ticket) in tickets.iter_mut().enumerate() {
        // Simulated days begin at the same second, those of a yard do not.
        let later = nth as i64 * 7_919 % 60_000;
        for at in ticket.times.iter_mut().flatten() {
            *at = Millis((at.0 + later).div_euclid(60_000) * 60_000);
        }
    }
    let rounded = read(table(&tickets, None));
    assert!(rounded.whole_minutes);
    let fits = fitted(&rounded);
    for (of, plant, truth, within) in [
        (Leg::Loading, Some("North"), 0.25, 0.005),
        (Leg::Loading, Some("Quay"), 0.3, 0.015),
        (Leg::Travel, None, 0.2, 0.005),
        (Leg::Unloading, None, 0.35, 0.017),
        (Leg::Position, None, 0.4, 0.02),
    ] {
        let (cv, _) = number(leg(&fits, of, plant), &Part::Spread("cv"));
        assert!(
            (cv - truth).abs() < within,
            "{of:?} {plant:?} {cv}, drawn from {truth}"
        );
    }
    for fitted in &fits.legs {
        let found = fitted.found.as_ref().expect("found");
        assert!(
            found.gap < 0.05,
            "{:?} {:?} {}",
            fitted.leg,
            fitted.plant,
            found.gap
        );
    }
    let (rate, error) = number(leg(&fits, Leg::Unloading, None), &rate("Tower", "Core"));
    assert!((rate - 1.4).abs() < 4.0 * error, "{rate} ± {error}");
}

fn said(folder: &Path, arguments: &[&str], code: i32) -> (String, String) {
    let mut command = cargo_bin_cmd!("plantday");
    let output = command
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("it runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    let (out, err) = (text(output.stdout), text(output.stderr));
    assert_eq!(output.status.code(), Some(code), "{out}\n{err}");
    (out, err)
}

#[test]
fn all_that_cannot_be_read_is_told_with_its_place_at_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let bad = "date,truck,yd3,ticketed,loaded\n2026-06-08,T1,ten,06:00,06:07\n2026-06-31,T2,8,soon,06:20\n2026-06-08,T3,8,06:30,06:61\n";
    fs::write(folder.path().join("bad.csv"), bad).expect("written");
    let (_, told) = said(folder.path(), &["tickets", "bad.csv"], 2);
    for words in [
        "row 2, column \"yd3\"",
        "\"2026-06-31\" is no date",
        "row 3, column \"ticketed\"",
        "\"soon\" is no time",
        "row 4, column \"loaded\"",
        "bad.csv:4",
    ] {
        assert!(told.contains(words), "{words}: {told}");
    }
    assert!(!folder.path().join("plantday-tickets").exists());
    fs::write(folder.path().join("other.csv"), "name,home\nN1,North\n").expect("written");
    let (_, told) = said(folder.path(), &["tickets", "other.csv"], 2);
    assert!(
        told.contains("no column holds a time of a ticket"),
        "{told}"
    );
    let (_, told) = said(folder.path(), &["tickets", "none.csv"], 2);
    assert!(told.contains("cannot read none.csv"), "{told}");
    fs::write(folder.path().join("empty.csv"), "").expect("written");
    let (_, told) = said(folder.path(), &["tickets", "empty.csv"], 2);
    assert!(told.contains("the table is empty"), "{told}");
}

/// From the command that writes them to the parts that are pasted, which the scenario's own reader takes.
#[test]
fn from_a_replay_to_parts_of_a_scenario() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    fs::write(at.join("known.ron"), KNOWN).expect("written");
    let replay = [
        "replay",
        "known.ron",
        "--replication",
        "0",
        "-n",
        "1",
        "--out",
        "r",
    ];
    let with = |more: &[&'static str]| [&replay[..], more].concat();
    let (_, told) = said(at, &with(&["--tickets", "t.csv", "--ticket-runs", "6"]), 0);
    assert!(told.contains("tickets are in t.csv"), "{told}");
    let (_, told) = said(at, &with(&["--tickets", "t.csv"]), 2);
    assert!(told.contains("--force replaces it"), "{told}");
    let (screen, _) = said(at, &["tickets", "t.csv", "known.ron", "--xlsx"], 0);
    assert!(screen.lines().count() <= 36, "{screen}");
    assert!(
        screen.lines().all(|line| line.chars().count() <= 100),
        "{screen}"
    );
    assert!(screen.contains("8 of 8 legs fitted to"), "{screen}");
    let parts = fs::read_to_string(at.join("plantday-tickets/parts.ron")).expect("parts");
    let between = |from: &str, to: &str| {
        let start = parts.find(from).expect(from);
        let end = parts[start..].find(to).expect(to) + start + to.len();
        parts[start..end].to_owned()
    };
    // As a user pastes: plants and roads whole, the fields of orders into each order.
    let plants = between("plants: [", "\n    ],\n");
    let roads =
        between("roads: (", "\n    ),\n").replace("\"Quay\": {", "\"Quay\": { \"Tower\": 41, ");
    let roads = roads.replacen(
        "\"North\": {",
        "\"North\": { \"Quay\": 30, \"Lock\": 33, ",
        1,
    );
    let fields = between("position: ", "\n        ),\n");
    let fields = fields.trim_end().trim_end_matches("),").to_owned();
    let pasted = format!(
        "(name: \"pasted\", {plants}\n sites: [(name: \"Tower\"), (name: \"Lock\"), (name: \"Weir\")],\n{roads}\n\
         trucks: [(name: \"N\", home: \"North\")], drivers: [(name: \"n\", trucks: \"N\", report: \"05:00\")],\n\
         orders: [(name: \"Core\", site: \"Tower\", first: \"07:00\", volume_yd3: 20, spacing_min: 20,\n{fields})],\n\
         rules: [(name: \"As today\", belief: FreeFlow)])"
    );
    // A way that tickets tell and the paste above adds too would stand twice.
    let pasted = dedup_ways(&pasted);
    let read = scenario("pasted.ron", &pasted);
    let read = read.unwrap_or_else(|faults| panic!("{faults}\n{pasted}"));
    assert_eq!(read.plants.len(), 2);
    let json = fs::read_to_string(at.join("plantday-tickets/tickets.json")).expect("json");
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(json["left_out"]["twice"], 0);
    assert_eq!(json["tickets_used"], json["tickets_read"]);
}

/// Leaves out what was added to a block of ways where the tickets tell it.
fn dedup_ways(text: &str) -> String {
    let mut text = text.to_owned();
    for added in ["\"Tower\": 41, ", "\"Lock\": 33, "] {
        let site = &added[..added.find(':').expect("a colon")];
        let block = text.find(added).expect("it was added");
        let end = text[block..].find('}').expect("a block ends") + block;
        if text[block + added.len()..end].contains(site) {
            text = text.replacen(added, "", 1);
        }
    }
    text
}

/// The known scenario with half an hour more to one site, from wherever.
fn longer_ways() -> String {
    let longer = KNOWN.replace("\"Weir\": 24", "\"Weir\": 54");
    longer.replace("\"Weir\": 26", "\"Weir\": 56")
}

fn checked(scenario: &Scenario, tickets: &PastTickets, replications: u64, seed: u64) -> Check {
    let question = CheckQuestion {
        rule: 0,
        replications,
        level: 0.95,
        seed,
        threads: None,
    };
    check(scenario, tickets, &question, Watch::default()).expect("periods to compare")
}

fn compared(found: &Check, measure: Measure) -> &Compared {
    let mut all = found.compared.iter();
    all.find(|one| one.measure == measure)
        .expect("it is compared")
}

/// Days of the scenario itself are believable; with one way half an hour longer they are not, and it is that way which is off, with what
/// comes of it, while what has nothing to do with it agrees.
#[test]
fn a_scenario_is_believable_for_its_own_days_and_not_for_others() {
    let scenario_itself = known();
    let days = read(table(
        &written_by(&scenario_itself, 20),
        scenario_itself.period.first_date,
    ));
    let same = checked(&scenario_itself, &days, 100, 1);
    assert!(same.is_believable(), "{:#?}", same.compared);
    assert_eq!((same.recorded, same.strange, same.orders), (20, 0, 3));
    assert!(same.untold.is_empty());
    let desk = same.desk.expect("loads are found again");
    assert_eq!(desk.loads, days.tickets.len());
    for chosen in [desk.plant, desk.truck] {
        let chosen = chosen.expect("told");
        assert!(!chosen.differ(), "{chosen:?}");
        assert!(chosen.recorded > 0.0 && chosen.recorded <= 1.0);
    }

    let longer = longer_ways();
    let longer = scenario("longer.ron", &longer).unwrap_or_else(|faults| panic!("{faults}"));
    let other = checked(&longer, &days, 100, 1);
    assert!(!other.is_believable());
    assert_eq!(
        compared(&other, Measure::Stage(Stage::Round)).standing(),
        Standing::Off
    );
    assert_eq!(
        compared(&other, Measure::Stage(Stage::Back)).standing(),
        Standing::Off
    );
    for stage in [Stage::Loading, Stage::Yard, Stage::AfterUnloading] {
        let standing = compared(&other, Measure::Stage(stage)).standing();
        assert_ne!(standing, Standing::Off, "{stage:?}");
    }
}

/// That days of the scenario itself are shown to differ in anything happens in at most 5 of 100 files: with 40 files more than 7 would
/// come to pass once in 700 times (binomial, 40 of 0.05).
#[test]
fn a_difference_is_shown_by_mistake_as_seldom_as_told() {
    let scenario = known();
    let all = written_by(&scenario, 200);
    let mistakes = (0..40).filter(|nth| {
        let weeks = (5 * nth)..(5 * nth + 5);
        let some = all.iter().filter(|ticket| {
            let week = ticket.first().map_or(0, |at| at.day() / 7);
            weeks.contains(&week)
        });
        let some: Vec<Ticket> = some.cloned().collect();
        let found = checked(&scenario, &read(table(&some, None)), 60, 2 + *nth as u64);
        assert_eq!(found.recorded, 5);
        let shown = |one: &Compared| {
            one.interval.excludes_zero() || one.spread.is_some() && one.width.1.excludes_zero()
        };
        found.compared.iter().any(shown)
    });
    let mistakes = mistakes.count();
    assert!(mistakes <= 7, "{mistakes} of 40");
}

/// Tickets on which the plants are exchanged: the rule picks the other one where it has a choice, so that it agrees with 1 − p of the loads
/// where it agreed with p.
#[test]
fn other_choices_of_the_desk_are_seen() {
    let scenario = known();
    let mut tickets = written_by(&scenario, 12);
    let desk = |tickets: &[Ticket]| {
        let found = checked(&scenario, &read(table(tickets, None)), 60, 1);
        found.desk.and_then(|desk| desk.plant).expect("told")
    };
    let before = desk(&tickets);
    for ticket in &mut tickets {
        let other = match ticket.plant.as_deref() {
            Some("North") => "Quay",
            _ => "North",
        };
        ticket.plant = Some(other.into());
    }
    let after = desk(&tickets);
    assert!(
        (before.recorded + after.recorded - 1.0).abs() < 1e-9,
        "{before:?} {after:?}"
    );
    assert!(!before.differ() && after.differ(), "{before:?} {after:?}");
}

#[test]
fn the_verdict_is_told_and_is_the_exit_code() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = folder.path();
    fs::write(at.join("known.ron"), KNOWN).expect("written");
    fs::write(at.join("longer.ron"), longer_ways()).expect("written");
    let scenario = known();
    fs::write(
        at.join("t.csv"),
        table(&written_by(&scenario, 20), scenario.period.first_date),
    )
    .expect("written");
    let (screen, _) = said(
        at,
        &["tickets", "t.csv", "known.ron", "--check", "-n", "60"],
        0,
    );
    assert!(
        screen.contains("Believable for this yard: over 20 recorded periods"),
        "{screen}"
    );
    assert!(screen.lines().count() <= 36, "{screen}");
    assert!(
        screen.lines().all(|line| line.chars().count() <= 100),
        "{screen}"
    );
    let (screen, _) = said(
        at,
        &["tickets", "t.csv", "longer.ron", "--check", "-n", "60"],
        1,
    );
    assert!(screen.contains("NOT BELIEVABLE"), "{screen}");
    assert!(screen.contains("plant to site spreads over"), "{screen}");
    // The built-in week has other orders.
    let (_, told) = said(at, &["tickets", "t.csv", "--check", "-n", "2"], 2);
    assert!(
        told.contains("no ticket of t.csv is of an order of the scenario"),
        "{told}"
    );
    let (_, told) = said(
        at,
        &["tickets", "t.csv", "known.ron", "--rule", "As today"],
        2,
    );
    assert!(told.contains("--check"), "{told}");
    // The same bytes on any number of threads.
    let json = |threads: &str| {
        let arguments = [
            "tickets",
            "t.csv",
            "known.ron",
            "--check",
            "-n",
            "20",
            "--json",
            "--threads",
            threads,
        ];
        said(at, &arguments, 0).0
    };
    assert_eq!(json("1"), json("3"));
}

/// Without luck every stage lasts what the scenario says: 10 yd³ at 1 min and half a minute a yard load in 6 min, pulling in and waiting for
/// the shared batcher not counted; 4 min at the rack, 20 out, 3 to pull up, 8 at 1.25 yd³ a minute, 5 of washing, 18 back. What waits
/// waits longer, never shorter.
#[test]
fn without_luck_tickets_tell_the_stages_of_the_scenario() {
    let text = r#"(
        name: "on paper", rule_book: "none",
        plants: [(name: "North", bays: 2, batcher: Shared, pull_in_min: 2, loading: PerYard(fixed_min: 1, min_per_yd3: 0.5, luck: 1), rack: 4)],
        sites: [(name: "Tower")],
        roads: (minutes: { "North": { "Tower": (20, 18) } }, luck: 1),
        trucks: [(name: "N", count: 4, home: "North")],
        drivers: [(name: "n", trucks: "N", report: "05:00", shift_h: 12)],
        orders: [(name: "Core", site: "Tower", first: "07:00", volume_yd3: 120, spacing_min: 5, outlets: [(rate_yd3_min: 1.25)],
            position: 3, discharge_luck: 1, chute_wash: 5)],
        rules: [(name: "As today", belief: FreeFlow)],
    )"#;
    let scenario = scenario("paper.ron", text).unwrap_or_else(|faults| panic!("{faults}"));
    let tickets = written_by(&scenario, 1);
    assert_eq!(tickets.len(), 12);
    let mut waited = 0;
    for (nth, ticket) in tickets.iter().enumerate() {
        let named = [&ticket.plant, &ticket.site, &ticket.order, &ticket.back_at];
        let named = named.map(|name| name.as_deref().expect("told"));
        assert_eq!(named, ["North", "Tower", "Core", "North"]);
        assert_eq!((ticket.yd3, ticket.placed_yd3), (Some(10.0), Some(10.0)));
        assert_eq!(ticket.number, Some((nth + 1).to_string()));
        for (stage, minutes) in [
            (Stage::Loading, 6.0),
            (Stage::Yard, 4.0),
            (Stage::Out, 20.0),
            (Stage::Unloading, 8.0),
            (Stage::AfterUnloading, 5.0),
            (Stage::Back, 18.0),
        ] {
            assert_eq!(stage.minutes(ticket), Some(minutes), "{stage:?} {ticket:?}");
        }
        let wait = Stage::SiteWait.minutes(ticket).expect("told");
        assert!(wait >= 3.0, "{ticket:?}");
        waited += u32::from(wait > 3.0);
    }
    assert!(
        waited > 0,
        "with 5 min between loads that take 11 trucks wait"
    );
    let mut loads: Vec<u32> = tickets.iter().filter_map(|ticket| ticket.load).collect();
    loads.sort_unstable();
    assert_eq!(loads, (1..=12).collect::<Vec<_>>());
}
