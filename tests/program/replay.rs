//! `plantday replay`: the same replication again, to the byte; what it says agrees with `compare`; bad arguments; names from
//! files stay text. No published source: the two commands are held against each other.

use assert_cmd::cargo::cargo_bin_cmd;
use plantday::Watch;
use plantday::dispatch::Refusal;
use plantday::engine::Luck;
use plantday::observe::ToldRefusals;
use plantday::plant::{Event, Observer, Plan, World};
use plantday::scenario;
use plantday::studies::replay::{Question, Which, replay};
use plantday::units::{Millis, OrderId, PlantId, TruckId};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::process::Output;
use tempfile::TempDir;

const TODAY: &str = "Nearest on the map";
const DAY: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/estuary_day.ron");
const WEEK: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/estuary_week.ron");

fn run(folder: &Path, arguments: &[&str]) -> Output {
    cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program runs")
}

fn fine(folder: &Path, arguments: &[&str]) -> String {
    let output = run(folder, arguments);
    assert_eq!(
        output.status.code(),
        Some(0),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    String::from_utf8(output.stdout).expect("output is UTF-8")
}

fn refused(folder: &Path, arguments: &[&str]) -> String {
    let output = run(folder, arguments);
    assert_eq!(output.status.code(), Some(2), "{arguments:?}");
    assert_eq!(fs::read_dir(folder).expect("the folder").count(), 0);
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn files(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut files: Vec<_> = fs::read_dir(folder)
        .expect("the folder")
        .map(|entry| {
            let path = entry.expect("an entry").path();
            let name = path.file_name().expect("a name").to_string_lossy();
            (name.into_owned(), fs::read(&path).expect("a file"))
        })
        .collect();
    files.sort();
    files
}

fn replayed(folder: &Path, arguments: &[&str]) -> Value {
    let all = [&["replay", "--json"], arguments].concat();
    serde_json::from_str(&fine(folder, &all)).expect("JSON")
}

#[test]
fn the_same_bytes_again_and_on_any_number_of_threads() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let of = |out: &str, threads: &str| {
        let arguments = [
            "replay",
            DAY,
            "-n",
            "23",
            "--out",
            out,
            "--threads",
            threads,
        ];
        fine(path, &arguments)
    };
    let first = of("one", "1");
    let names: Vec<String> = files(&path.join("one"))
        .into_iter()
        .map(|(name, _)| name)
        .collect();
    for name in ["events.csv", "replay.html", "trucks.svg"] {
        assert!(names.iter().any(|known| known == name), "{name}");
    }
    for (out, threads) in [("two", "2"), ("five", "5"), ("again", "1")] {
        assert_eq!(of(out, threads), first);
        assert_eq!(files(&path.join(out)), files(&path.join("one")), "{out}");
    }
}

/// Every figure of the replication is that of its row in `compare`'s figures.csv, under each rule.
#[test]
fn a_replay_has_the_figures_of_its_row() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fine(path, &["compare", DAY, "-n", "12"]);
    let mut table =
        csv::Reader::from_path(path.join("plantday-out/figures.csv")).expect("figures.csv");
    let headings = table.headers().expect("headings").clone();
    let mut checked = 0;
    for row in table.records() {
        let row = row.expect("a row");
        if !["3", "11"].contains(&&row[0]) {
            continue;
        }
        let replay = replayed(
            path,
            &[DAY, "-n", "2", "--rule", &row[1], "--replication", &row[0]],
        );
        for (key, cell) in headings.iter().zip(&row).skip(2) {
            let here = replay["figures"][key]["here"]
                .as_f64()
                .map(|here| here as f32);
            let expected = cell.parse::<f32>().ok();
            assert_eq!(here, expected, "{key} of {}", &row[1]);
            checked += 1;
        }
    }
    assert!(checked > 200, "{checked}");
}

/// Late and undelivered loads, strandings: as many in the lists as in the figures; the parts of a late load add up.
#[test]
fn the_lists_agree_with_the_figures() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let mut late_loads = 0;
    for arguments in [
        &[DAY, "-n", "2", "--replication", "4"][..],
        &[DAY, "-n", "40", "--worst", "strandings"],
        &[WEEK, "-n", "3", "--worst", "waste"],
        &[WEEK, "-n", "1", "--replication", "21"],
    ] {
        let replay = replayed(path, arguments);
        let figure = |key: &str| replay["figures"][key]["here"].as_f64().expect(key) as usize;
        let list = |key: &str| replay[key].as_array().expect(key);
        let (late, never) = (list("late"), list("undelivered"));
        assert_eq!(never.len(), figure("undelivered_loads"), "{arguments:?}");
        assert_eq!(
            late.len() + never.len(),
            figure("late_loads"),
            "{arguments:?}"
        );
        assert_eq!(list("stranded").len(), figure("stranded"), "{arguments:?}");
        for load in late.iter().chain(never) {
            let parts = load["because"].as_array().expect("parts");
            let sum: f64 = parts.iter().map(|p| p["min"].as_f64().expect("min")).sum();
            let minutes = load["late_min"].as_f64().expect("late_min");
            assert!((sum - minutes).abs() < 1e-6, "{load}");
        }
        late_loads += late.len();
    }
    assert!(late_loads > 50);
}

/// The row of a figure in the terminal's table: what stands under "here".
fn here(answer: &str, label: &str) -> String {
    let line = answer.lines().find(|line| line.trim().starts_with(label));
    let cells = line.expect(label).trim()[label.len()..].split_whitespace();
    cells.collect::<Vec<_>>()[0].to_owned()
}

/// A week with loads that never came: told among the late ones by their minutes, each with its day and causes; counts are whole,
/// and the sentence counts as the table does; the table of events has the page's days.
#[test]
fn what_never_came_has_a_story() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let week = ["replay", "-n", "2", "--replication", "878"];
    let answer = fine(path, &week);
    let replay = replayed(path, &week[1..]);
    let list = |key: &str| replay[key].as_array().expect(key);
    let (late, never) = (list("late"), list("undelivered"));
    assert!(!never.is_empty());
    let all = late.len() + never.len();
    let sentence = format!("{all} late ({} of them never came)", never.len());
    assert!(answer.contains(&sentence), "{sentence}");
    assert_eq!(here(&answer, "late loads"), all.to_string());
    assert_eq!(here(&answer, "undelivered loads"), never.len().to_string());
    let stranded = list("stranded").len();
    assert_eq!(here(&answer, "drivers stranded"), stranded.to_string());

    let page = fs::read_to_string(path.join("plantday-replay/replay.html")).expect("the page");
    for load in never {
        let day = load["day"].as_f64().expect("a day");
        let over = load["ready_min"].as_f64().expect("ready_min")
            + load["late_min"].as_f64().expect("late_min");
        // At midnight, or within three hours of it where the order's last load is due in the evening.
        let past_midnight = over.round().rem_euclid(1440.0);
        assert!(past_midnight <= 180.0, "{load}");
        assert!((over - day * 1440.0).abs() <= 1440.0, "{load}");
        assert!(!load["because"].as_array().expect("parts").is_empty());
        let story = load["sentence"].as_str().expect("a sentence");
        let order = load["order"].as_str().expect("an order");
        let yd3 = load["yd3"].as_f64().expect("yd3");
        let minutes = load["late_min"].as_f64().expect("late_min").round();
        let told = format!(
            ", {yd3} yd³: not on site by the end of day {day}, {minutes} min late by then</b>: {story}."
        );
        assert!(page.contains(order) && page.contains(&told), "{told}");
    }
    // The terminal's rows are those with most minutes.
    let mut minutes: Vec<f64> = late
        .iter()
        .chain(never)
        .map(|load| load["late_min"].as_f64().expect("late_min"))
        .collect();
    minutes.sort_by(|a, b| b.total_cmp(a));
    let rows = answer
        .split("Late loads, latest first")
        .nth(1)
        .expect("the list");
    assert!(rows.starts_with(" (a load that never came is late by the end of its day):"));
    let shown: Vec<&str> = rows.split(" min  ").collect();
    for (row, minutes) in shown.iter().zip(&minutes[..5]) {
        assert!(row.ends_with(&format!(" {minutes:.0}")), "{row} {minutes}");
    }
    assert!(rows.contains(" never, day "), "{rows}");

    let events = fs::read(path.join("plantday-replay/events.csv")).expect("events.csv");
    let mut table = csv::Reader::from_reader(&events[..]);
    let headings: Vec<String> = table
        .headers()
        .expect("headings")
        .iter()
        .map(Into::into)
        .collect();
    assert_eq!(headings[..3], ["time_min", "day", "time"]);
    let mut days = BTreeSet::new();
    for row in table.records() {
        let row = row.expect("a row");
        let minutes: f64 = row[0].parse().expect("minutes");
        let day: i64 = row[1].parse().expect("a day");
        let clock: Vec<f64> = row[2]
            .split(':')
            .map(|part| part.parse().expect("a time"))
            .collect();
        let seconds = clock.get(2).copied().unwrap_or_default();
        let told = (day - 1) as f64 * 1440.0 + clock[0] * 60.0 + clock[1] + seconds / 60.0;
        assert!((told - minutes).abs() < 1.0 / 60.0 + 1e-9, "{row:?}");
        days.insert(day);
    }
    assert!(days.len() >= 6, "{days:?}");
}

/// The page beside the report opens on the day that the report draws.
#[test]
fn the_worst_days_page_opens_on_the_day_of_the_chart() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let mut days = BTreeSet::new();
    for seed in ["1", "2", "3"] {
        fine(path, &["compare", "-n", "2", "--seed", seed]);
        let read =
            |file: &str| fs::read_to_string(path.join("plantday-out").join(file)).expect(file);
        let chart = read("worst-day.svg");
        let after = |text: &str, words: &str| -> u64 {
            let rest = text.split(words).nth(1).expect(words);
            let digits: String = rest.chars().take_while(char::is_ascii_digit).collect();
            digits.parse().expect("a number")
        };
        let day = after(&chart, ", day ");
        let opens = after(&read("worst-day.html"), "\"open\":");
        assert_eq!(opens / 86_400 + 1, day, "seed {seed}");
        days.insert(day);
    }
    assert!(days.len() > 1 || !days.contains(&1), "{days:?}");
}

/// The title over the picture counts the loads of the list that came late on its day, and no load that was turned away: in each of
/// these replications some are turned away late.
#[test]
fn the_picture_counts_the_late_loads_of_the_list() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    for replication in ["0", "1", "2"] {
        let asked = ["-n", "1", "--replication", replication];
        let answer = replayed(path, &[&[WEEK][..], &asked].concat());
        fine(path, &[&["replay", WEEK][..], &asked].concat());
        let picture = fs::read_to_string(path.join("plantday-replay/trucks.svg")).expect("it");
        let (before, _) = picture.split_once(" loads came late").expect("the title");
        let counted: u64 = before
            .rsplit(|c: char| !c.is_ascii_digit())
            .next()
            .and_then(|digits| digits.parse().ok())
            .expect("a number");
        let after = picture.split_once(", day ").expect("the day").1;
        let day: f64 = after[..1].parse().expect("a day of the week");
        let on_day = |late: &&Value| {
            let at = late["at_min"].as_f64().expect("a time");
            (at / 1440.0).floor() + 1.0 == day
        };
        let late = answer["late"].as_array().expect("a list");
        assert_eq!(
            counted,
            late.iter().filter(on_day).count() as u64,
            "{replication}"
        );
    }
}

#[test]
fn the_help_names_the_scenario_that_is_played() {
    let folder = TempDir::new().expect("a folder");
    let help = fine(folder.path(), &["replay", "--help"]);
    assert!(help.contains("left out: the built-in week"), "{help}");
    let played = replayed(folder.path(), &["-n", "1", "--replication", "3"]);
    let week = replayed(folder.path(), &[WEEK, "-n", "1", "--replication", "3"]);
    assert_eq!(played["scenario"], week["scenario"]);
}

/// The worst is the first of the largest in `compare`'s rows, and the report names the command for it.
#[test]
fn the_worst_is_the_worst_of_the_rows_and_the_report_says_how_to_replay_it() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fine(path, &["compare", DAY, "-n", "30"]);
    let mut table =
        csv::Reader::from_path(path.join("plantday-out/figures.csv")).expect("figures.csv");
    let headings = table.headers().expect("headings").clone();
    let rows: Vec<csv::StringRecord> = table.records().map(|row| row.expect("a row")).collect();
    let worst = |figure: &str| {
        let place = headings.iter().position(|h| h == figure).expect(figure);
        let mut worst = (0, f64::NEG_INFINITY);
        for row in rows.iter().filter(|row| &row[1] == TODAY) {
            let value: f64 = row[place].parse().expect("a number");
            if value > worst.1 {
                worst = (row[0].parse().expect("a number"), value);
            }
        }
        worst.0
    };
    for (by, figure) in [
        ("lateness", "late_loads"),
        ("strandings", "stranded"),
        ("waste", "dumped_yd3"),
        ("cost", "cost"),
    ] {
        let replay = replayed(path, &[DAY, "-n", "30", "--worst", by]);
        assert_eq!(replay["replication"].as_u64(), Some(worst(figure)), "{by}");
    }
    let report = fs::read_to_string(path.join("plantday-out/report.html")).expect("report.html");
    let command = format!(
        "plantday replay FILE --rule &quot;{TODAY}&quot; --replication {} --seed 1",
        worst("late_loads")
    );
    assert!(report.contains(&command), "{command}");
}

#[test]
fn bad_arguments() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let wrong = refused(path, &["replay", DAY, "--rule", "Nearest on the mop"]);
    assert!(
        wrong.contains("did you mean \"Nearest on the map\"?"),
        "{wrong}"
    );
    let wrong = refused(path, &["replay", "--worst", "costs"]);
    assert!(wrong.contains("cost"), "{wrong}");
    refused(path, &["replay", "--replication", "-1"]);
    refused(path, &["replay", "--replication", "3", "--worst", "cost"]);
    refused(path, &["replay", "--replications", "0"]);
    refused(path, &["replay", "missing.ron"]);
}

#[test]
fn names_stay_text_in_page_and_table() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let demo = include_str!("../../scenarios/estuary_day.ron")
        .replace(
            "name: \"N\", count: 15",
            "name: \"=1+1</script><b>\", count: 15",
        )
        .replace("trucks: \"N\"", "trucks: \"=1+1</script><b>\"")
        .replace(
            "name: \"Sea wall, bay 7\"",
            "name: \"<!--<script>alert(1)\"",
        );
    fs::write(path.join("hostile.ron"), demo).expect("a file");
    fine(path, &["replay", "hostile.ron", "-n", "3"]);
    let page = fs::read_to_string(path.join("plantday-replay/replay.html")).expect("the page");
    assert_eq!(
        page.matches("<script").count(),
        2,
        "the data and the player"
    );
    assert_eq!(page.matches("</script>").count(), 2);
    assert!(!page.contains("<!--"));
    let events = fs::read(path.join("plantday-replay/events.csv")).expect("events.csv");
    let mut table = csv::Reader::from_reader(&events[..]);
    let mut cells = 0;
    for row in table.records() {
        for cell in row.expect("a row").iter() {
            assert!(!cell.starts_with('='), "{cell}");
            cells += 1;
        }
    }
    assert!(cells > 1000);
}

/// One plant, two trucks, one site, no luck: loading 6, rack 4, out 20, discharge 10, chute wash 5, back 18. D1 reports at 05:30 and
/// is back from load 1 at 07:33; load 3 would take until 08:36. D2 is back from load 2 at 08:03; load 3 would take until 09:06.
/// The window ends at 08:33, D2 may drive 75 min of which load 3 would use the 76th.
const REFUSED: &str = r#"(
    name: "refused",
    rule_books: [
        (name: "window", like: "none", rest_h: 10, window_h: 3.05),
        (name: "driving", like: "none", rest_h: 10, driving_h: 1.25),
    ],
    company: (promise_horizon_min: 0),
    plants: [(name: "P", hours: [(open: "05:00", close: "17:00")], loading: Constant(6), rack: Constant(4))],
    sites: [(name: "A")],
    roads: (minutes: { "P": { "A": (20, 18) } }),
    trucks: [(name: "T", count: 2, home: "P")],
    drivers: [
        (name: "D1", trucks: "T1", report: "05:30", rule_book: "window"),
        (name: "D2", trucks: "T2", report: "05:30", rule_book: "driving"),
    ],
    orders: [(name: "=W", site: "A", first: "07:00", volume_yd3: 40, spacing_min: 30,
        position: Constant(0), discharge_luck: Constant(1), chute_wash: Constant(5))],
    yard: (pre_trip: Constant(15), washout: Constant(12), post_trip: Constant(8)),
    rules: [(name: "R", belief: FreeFlow, gates: [HomeWithin(probability: 0.5)])],
)"#;

#[test]
fn who_was_refused_for_a_load_and_by_which_clock() {
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    fs::write(path.join("refused.ron"), REFUSED).expect("a file");
    let window = "get-home check, duty window could end before home";
    let driving = "get-home check, driving hours could end before home";
    let all = ["replay", "refused.ron", "-n", "1"];
    let answer = fine(path, &[&all[..], &["--refusals"]].concat());
    for line in [
        format!("Refused for hours: once {driving}; once get-home check,"),
        format!("07:33   =W, load 3   D1 from P   {window}"),
        format!("08:03   =W, load 3   D2 from P   {driving}"),
    ] {
        assert!(answer.contains(&line), "{line} in {answer}");
    }
    let page = fs::read_to_string(path.join("plantday-replay/replay.html")).expect("the page");
    assert!(page.contains("<h2>Refused for hours</h2>"));
    assert!(page.contains(&format!("<b>=W, load 3: D1 from P</b>: {window}")));
    assert!(page.contains(" --replications 1 --refusals<"));
    // In the list of what happens, too.
    assert!(page.contains(&format!(
        "\"T1 (D1) refused for =W, load 3 from P: {window}\""
    )));
    let events = fs::read(path.join("plantday-replay/events.csv")).expect("events.csv");
    let mut table = csv::Reader::from_reader(&events[..]);
    let rows: Vec<String> = table
        .records()
        .map(|row| row.expect("a row").iter().collect::<Vec<_>>().join("|"))
        .filter(|row| row.contains("refused"))
        .collect();
    assert_eq!(
        rows,
        [
            format!("453|1|07:33|T1 (D1) refused for =W, load 3 from P: {window}|T1|D1|P"),
            format!("483|1|08:03|T2 (D2) refused for =W, load 3 from P: {driving}|T2|D2|P"),
        ]
    );
    let json = replayed(path, &["refused.ron", "-n", "1", "--refusals=hours"]);
    assert_eq!(
        json["refused"][1],
        serde_json::json!({ "at_min": 483.0, "order": "=W", "load": 3, "driver": "D2", "truck": "T2", "plant": "P",
            "reason": driving, "clock": "driving" })
    );
    // Not asked for, not shown.
    let answer = fine(path, &all);
    assert!(!answer.contains("efused for"), "{answer}");
    for file in ["events.csv", "replay.html"] {
        let text = fs::read_to_string(path.join("plantday-replay").join(file)).expect(file);
        assert!(!text.contains("efused for"), "{file}");
    }
    assert!(replayed(path, &["refused.ron", "-n", "1"])["refused"].is_null());
    let wrong = run(path, &["replay", "refused.ron", "--refusals=hour"]);
    assert_eq!(wrong.status.code(), Some(2));
    let wrong = String::from_utf8_lossy(&wrong.stderr).into_owned();
    assert!(wrong.contains("'hours'"), "{wrong}");
}

/// Every refusal as the world tells it.
#[derive(Default)]
struct Heard(Vec<(OrderId, u32, TruckId, PlantId, Refusal)>);

impl Observer for Heard {
    fn event(&mut self, _: Millis, event: &Event) {
        if let Event::Refused {
            order,
            number,
            truck,
            plant,
            reason,
        } = *event
        {
            self.0.push((order, number, truck, plant, reason));
        }
    }
}

/// A load asks again and again; a candidate is told once until the reason is another, and nothing is left out.
#[test]
fn each_candidate_is_told_once_until_the_reason_changes() {
    let week = fs::read_to_string(WEEK).expect("the week");
    let read = |text: &str| scenario::parse("days", text).expect("it is right");
    let (week, paper) = (read(&week), read(REFUSED));
    let (mut repeated, mut of_hours) = (false, BTreeSet::new());
    // A usual week, and one in which several are stranded; and the day on paper.
    let weeks = (0..week.rules.len()).flat_map(|rule| [3, 878].map(|nth| (&week, rule, nth)));
    for (scenario, rule, replication) in weeks.chain([(&paper, 0, 0)]) {
        let plan = Plan::new(scenario);
        let mut heard = Heard::default();
        World::new(&plan).run(rule, Luck::new(1, replication), &mut heard);
        let told = |refusals| {
            let question = Question {
                rule,
                which: Which::Number(replication),
                replications: 1,
                refusals: Some(refusals),
                seed: 1,
                threads: None,
            };
            let answer = replay(scenario, &question, Watch::default()).expect("it is played");
            answer
                .refused
                .iter()
                .map(|r| (r.order, r.number, r.truck, r.plant, r.reason))
                .collect::<Vec<_>>()
        };
        let all = told(ToldRefusals::All);
        repeated |= all.len() < heard.0.len();
        let mut last = BTreeMap::new();
        for (order, number, truck, plant, reason) in &all {
            let before = last.insert((order, number, truck, plant), reason);
            assert_ne!(before, Some(reason), "{order:?} {number} {truck:?}");
        }
        let set = |list: &[_]| list.iter().copied().collect::<BTreeSet<_>>();
        assert_eq!(set(&all), set(&heard.0));
        let hours = told(ToldRefusals::OfHours);
        let expected = heard.0.iter().filter(|refused| refused.4.is_of_hours());
        assert_eq!(set(&hours), expected.copied().collect());
        of_hours.extend(hours.iter().map(|refused| refused.4));
    }
    assert!(repeated, "a week without a load that asks twice");
    assert!(of_hours.len() >= 5, "{of_hours:?}");
}

/// Where places have no coordinates the page says how they are laid out and how far distances are off; positions that minutes do not
/// give are not made up. By hand: three plants and four sites of a plane, a minute for each mile.
#[test]
fn a_map_without_coordinates_is_laid_out_by_minutes_and_says_so() {
    let spots: [(&str, f64, f64); 7] = [
        ("P1", 0.0, 0.0),
        ("P2", 60.0, 0.0),
        ("P3", 30.0, 34.0),
        ("S1", 5.0, 30.0),
        ("S2", 55.0, 33.0),
        ("S3", 30.0, 15.0),
        ("S4", 31.0, 1.0),
    ];
    let far = |a: usize, b: usize| (spots[a].1 - spots[b].1).hypot(spots[a].2 - spots[b].2);
    let day = |plants: usize, mapped: &dyn Fn(usize) -> bool| {
        let at = |place: usize| {
            let (name, east, north) = spots[place];
            match mapped(place) {
                true => format!("(name: \"{name}\", at: ({east}, {north}))"),
                false => format!("(name: \"{name}\")"),
            }
        };
        let list = |places: std::ops::Range<usize>| places.map(at).collect::<Vec<_>>().join(", ");
        let row = |plant: usize| {
            let to = (plant + 1..plants).chain(3..7);
            let minutes = to.map(|to| format!("\"{}\": {:.3}", spots[to].0, far(plant, to)));
            let minutes = minutes.collect::<Vec<_>>().join(", ");
            format!("\"{}\": {{ {minutes} }}", spots[plant].0)
        };
        let order = |site: usize| {
            let name = spots[site].0;
            format!(
                "(name: \"{name}\", site: \"{name}\", first: \"09:00\", volume_yd3: 10, spacing_min: 10)"
            )
        };
        format!(
            "(name: \"map\", plants: [{}], sites: [{}], roads: (minutes: {{ {} }}), trucks: [(name: \"T\", count: 4, home: \"P1\")], \
             drivers: [(name: \"D\", trucks: \"T\", report: \"06:00\")], orders: [{}], rules: [(name: \"R\", belief: FreeFlow)])",
            list(0..plants),
            list(3..7),
            (0..plants).map(row).collect::<Vec<_>>().join(", "),
            (3..7).map(order).collect::<Vec<_>>().join(", "),
        )
    };
    let shown = |text: String| -> (String, Vec<(f64, f64)>) {
        let folder = TempDir::new().expect("a folder");
        fs::write(folder.path().join("map.ron"), text).expect("a file");
        fine(
            folder.path(),
            &["replay", "map.ron", "-n", "2", "--out", "o"],
        );
        let page = fs::read_to_string(folder.path().join("o/replay.html")).expect("a page");
        let said = page.split("id=\"layout\">").nth(1).expect("a note");
        let said = said.split("</p>").next().expect("its end").to_owned();
        let data = page.split("id=\"data\">").nth(1).expect("the data");
        let data: Value =
            serde_json::from_str(data.split("</script>").next().expect("its end")).expect("JSON");
        let places = data["places"].as_array().expect("places").iter();
        let at = |place: &Value, axis: usize| place["at"][axis].as_f64().expect("a position");
        (
            said,
            places.map(|place| (at(place, 0), at(place, 1))).collect(),
        )
    };
    let (said, at) = shown(day(3, &|_| false));
    assert!(
        said.starts_with("Laid out by drive minutes") && said.contains("off by"),
        "{said}"
    );
    let drawn = |a: usize, b: usize| (at[a].0 - at[b].0).hypot(at[a].1 - at[b].1);
    let scale = drawn(0, 1) / far(0, 1);
    for pair in [(0, 2), (0, 3), (1, 4), (2, 6), (3, 4), (0, 5)] {
        let off = drawn(pair.0, pair.1) / (scale * far(pair.0, pair.1)) - 1.0;
        assert!(off.abs() < 0.15, "{pair:?} {off} {said}");
    }
    // Some have coordinates, some not: nothing is mixed, and it is said.
    let (said, mixed) = shown(day(3, &|place| place < 5));
    assert!(
        said.starts_with("2 of the 7 places have no coordinates"),
        "{said}"
    );
    assert_eq!(mixed, at);
    // One place alone without is the middle of the map.
    let (said, _) = shown(day(3, &|place| place != 0));
    assert!(
        said.starts_with("Places stand where the scenario puts them"),
        "{said}"
    );
    // One plant: how far, not whither.
    let one = day(1, &|_| false);
    let (said, _) = shown(one);
    assert!(
        said.contains("in which direction a site lies means nothing")
            || said.starts_with("No map:"),
        "{said}"
    );
}
