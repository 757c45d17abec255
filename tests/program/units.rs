//! A scenario in SI: the image of one in US units has the same day; nothing of US units is left on any screen, page or file; what is
//! written in the wrong units is told at its place. Factors: NIST SP 811 (2008), appendix B.8: 1 yd³ = 0.764554857984 m³ (0.9144³),
//! 1 lb = 0.45359237 kg, 1 mi = 1.609344 km, 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 gal = 3.785411784 L, 1 psi = 6.894757 kPa,
//! 1 hp = 745.6999 W.

use assert_cmd::cargo::cargo_bin_cmd;
use plantday::scenario::{Scenario, parse};
use std::fs;
use std::path::Path;
use tempfile::TempDir;

const METRIC: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/metric_day.ron");

const YD3: f64 = 0.764554857984;
const LB: f64 = 0.45359237;
const MILE: f64 = 1.609344;
const PSI: f64 = 0.006894757293168;

/// A day with a field of every kind of unit; `{x:…}` is a number in US units that the image has in SI.
const DAY: &str = r#"(
    name: "image", {units}
    rule_book: DutyWindow(hours: 14),
    plants: [(name: "P", at: ({mi:0}, {mi:6}), loading: PerYard(fixed_min: 1.5, min_per_{yd3}: {peryd:0.45}, luck: Lognormal(mean: 1, cv: 0.2)),
        truck_scale: false), (name: "Q", at: ({mi:3}, {mi:-2}))],
    sites: [(name: "A", at: ({mi:4}, {mi:2})), (name: "B", at: ({mi:-5}, {mi:1}))],
    roads: Network(
        junctions: ["J"],
        links: [
            (from: "P", to: "J", {miles}: {mi:4.2}, {mph}: {mi:45}, grade_percent: 3, weight_limit_{lb}: {lb:80000}),
            (from: "Q", to: "J", {miles}: {mi:6.1}, {mph}: {mi:40}, weigh_station: (hours: [(from: "06:00", to: "14:00")], minutes: 4)),
            (from: "J", to: "A", {miles}: {mi:3.3}, {mph}: {mi:30}),
            (from: "J", to: "B", {miles}: {mi:5.7}, {mph}: {mi:35}, grade_percent: -2),
        ],
        truck: (loaded_{lb}: {lb:66500}, empty_{lb}: {lb:26000}, {hp}: {hp:400}),
        luck: Lognormal(mean: 1, cv: 0.2), straight_line_{mph}: {mi:32}),
    trucks: [(name: "P", count: 5, home: "P", capacity_{yd3}: {yd:10}, empty_{lb}: {lb:28000}, legal_gross_{lb}: {lb:69000}),
        (name: "Q", count: 3, home: "Q", capacity_{yd3}: {yd:9.5}, legal_gross_{lb}: {lb:66000},
            axles: [(at_{ft}: {ft:0}, empty_{lb}: {lb:10000}, share: 0.2), (at_{ft}: {ft:16}, empty_{lb}: {lb:9000}, share: 0.4),
                (at_{ft}: {ft:20.5}, empty_{lb}: {lb:9000}, share: 0.4)])],
    drivers: [(name: "p", trucks: "P", report: "05:00", stagger_min: 10), (name: "q", trucks: "Q", report: "05:30")],
    orders: [
        (name: "one", site: "A", first: "07:00", volume_{yd3}: {yd:90}, spacing_min: 15, mix: "m", outlets: [(rate_{yd3}_min: {yd:1.2}, places: 2)]),
        (name: "two", site: "B", first: "08:00", volume_{yd3}: {yd:33.5}, pour_rate_{yd3}_h: {yd:30}, load_{yd3}: {yd:8}, mix: "m",
            stabilizer: (min: 30, per_{yd3}: {peryd:2})),
    ],
    drawn: [(name: "few", per_day: Poisson(3), first: ("07:00", "15:00"), volume_{yd3}: {spread}, most_{yd3}: {yd:24}, spacing_min: 12, site: "A", mix: "m")],
    changes: (cancelled: 0.1, returned: 0.5, returned_{yd3}: {yd:0.8}, balance: 0.3, balance_{yd3}: {yd:2}),
    weighing: (empty_over_{lb}: {lb:600}, empty_sd_{lb}: {lb:300}),
    concrete: (
        mixes: [(name: "m", cement_{lb}: {dens:620}, water_{lb}: {dens:285}, coarse_{lb}: {dens:1700}, hrwr_{lb}: {dens:3}, slump_{in}: {in:6},
            slump_tolerance_{in}: {in:1.5}, specified_{psi}: {psi:3800}, most_wc: 0.5)],
        meter: (sd_{in}: {in:0.4}), temperature: Daily(mean_{f}: {f:76}, swing_{f}: {df:9}), temperature_sd_{f}: {df:4},
        concrete_at_{f70}: {f:72}, corrections: (dump_{yd3}: {yd:0.8}, cement_per_{lb}: {perlb:0.08}), on_site: (by_eye_{in}: {in:1.2}),
        sensitivity: (slump_{in}_per_air: {in:0.6}, air_per_{gal}: {pergal:0.4})),
    money: (material_per_{yd3}: {peryd:101}, dumped_per_{yd3}: {peryd:38}, undelivered_per_{yd3}: {peryd:170}, truck_per_{mile}: {permi:0.55},
        returned_per_{yd3}: {peryd:33}, revenue: (per_{yd3}: {peryd:168}, prices: {"m": {peryd:181}}, unloading_min_per_{yd3}: {peryd:6},
            unloading_per_min: 2, short_load_under_{yd3}: {yd:12}, short_load: 80)),
    rules: [
        (name: "One", belief: StraightLine, lend: Always, room_kept_{yd3}: {yd:0.5}, weight_margin_{lb}: {lb:300}, yard: (most_{gal}_{yd3}: {gal:2})),
        (name: "Two", belief: TimeOfDay(quantile: 0.7), choose: SoonestOnSite, gates: [HomeWithin(probability: 0.9)]),
    ],
)"#;

/// The day in US units, or its image in SI: by factors and names of this test alone.
fn day(si: bool) -> String {
    let units = if si {
        "units: si, currency: \"€\","
    } else {
        ""
    };
    let mut text = DAY.replace("{units}", units);
    text = text.replace(
        "{spread}",
        if si {
            "Uniform({yd:4}, {yd:20})"
        } else {
            "Uniform(4, 20)"
        },
    );
    for (us, of_si) in [
        ("yd3", "m3"),
        ("lb", "kg"),
        ("miles", "km"),
        ("mile", "km"),
        ("mph", "kmh"),
        ("hp", "kw"),
        ("ft", "m"),
        ("in", "mm"),
        ("psi", "mpa"),
        ("f", "c"),
        ("gal", "l"),
    ] {
        text = text.replace(&format!("{{{us}}}"), if si { of_si } else { us });
    }
    text = text.replace("{f70}", if si { "21_c" } else { "70_f" });
    let factor = |kind: &str, us: f64| match kind {
        "yd" => us * YD3,
        "peryd" => us / YD3,
        "lb" => us * LB,
        "perlb" => us / LB,
        "dens" => us * LB / YD3,
        "mi" => us * MILE,
        "permi" => us / MILE,
        "hp" => us * 0.745699871582,
        "ft" => us * 0.3048,
        "in" => us * 25.4,
        "psi" => us * PSI,
        "f" => (us - 32.0) / 1.8,
        "df" => us / 1.8,
        "gal" => us * 3.785411784 / YD3,
        "pergal" => us / (3.785411784 / YD3),
        _ => panic!("{kind}"),
    };
    let mut done = String::new();
    let mut rest = text.as_str();
    while let Some(at) = rest.find('{') {
        let inside = rest[at + 1..].split('}').next().expect("a brace");
        let number = inside
            .split_once(':')
            .and_then(|(kind, number)| Some((kind, number.parse().ok()?)));
        match number {
            Some((kind, us)) => {
                let value: f64 = if si { factor(kind, us) } else { us };
                done += &format!("{}{value}", &rest[..at]);
                rest = &rest[at + inside.len() + 2..];
            }
            None => {
                done += &rest[..=at];
                rest = &rest[at + 1..];
            }
        }
    }
    done + rest
}

fn run(folder: &Path, arguments: &[&str]) -> String {
    let output = cargo_bin_cmd!("plantday")
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program runs");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(
        matches!(output.status.code(), Some(0 | 1)),
        "{arguments:?}: {said}"
    );
    String::from_utf8(output.stdout).expect("UTF-8") + &said
}

fn written(folder: &Path) {
    fs::write(folder.join("us.ron"), day(false)).expect("a file");
    fs::write(folder.join("si.ron"), day(true)).expect("a file");
}

fn table(path: &Path) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_path(path)
        .expect("a table");
    let rows = reader
        .records()
        .map(|row| row.expect("a row").iter().map(str::to_owned).collect());
    rows.collect()
}

/// The same events at the same times, and every figure the same but for its unit.
#[test]
fn the_image_of_a_day_is_that_day() {
    let folder = TempDir::new().expect("a folder");
    written(folder.path());
    for side in ["us", "si"] {
        let file = format!("{side}.ron");
        run(
            folder.path(),
            &["compare", &file, "-n", "12", "--out", side],
        );
        run(
            folder.path(),
            &[
                "replay",
                &file,
                "-n",
                "3",
                "--replication",
                "2",
                "--out",
                &format!("{side}-replay"),
            ],
        );
    }
    let of = |side: &str, name: &str| table(&folder.path().join(side).join(name));
    let (us, si) = (of("us-replay", "events.csv"), of("si-replay", "events.csv"));
    assert_eq!(us.len(), si.len());
    assert!(us.len() > 60);
    for (us, si) in us.iter().zip(&si) {
        // Time, day, clock, truck, driver, place; what happened tells amounts.
        assert_eq!(
            (&us[..3], &us[4..]),
            (&si[..3], &si[4..]),
            "{} / {}",
            us[3],
            si[3]
        );
    }
    let (us, si) = (of("us", "figures.csv"), of("si", "figures.csv"));
    let mut converted = 0;
    for at in 2..us[0].len() {
        let (here, there) = (us[0][at].as_str(), si[0][at].as_str());
        let factor = match here {
            _ if here.contains("per_yd3") => 1.0 / YD3,
            _ if here.contains("yd3") => YD3,
            _ if here.ends_with("_lb") => LB,
            "psi_lost" => PSI,
            _ => 1.0,
        };
        assert_eq!(here != there, factor != 1.0, "{here} {there}");
        converted += usize::from(factor != 1.0);
        for (us, si) in us[1..].iter().zip(&si[1..]) {
            let number = |text: &str| text.parse::<f64>().unwrap_or(f64::NAN);
            let (a, b) = (number(&us[at]) * factor, number(&si[at]));
            let close = (a - b).abs() <= 2e-4 * a.abs().max(1e-3) || a.is_nan() && b.is_nan();
            assert!(close, "{there}: {a} {b}");
        }
    }
    assert!(converted >= 12, "{converted}");
}

/// Signs of US units, and of dollars, as words: at the edges of a word, or of a part of a name.
fn left_over(text: &str) -> Option<String> {
    let us = [
        "yd³", "yd3", "mi", "mile", "miles", "mph", "lb", "lbs", "pound", "pounds", "°F", "psi",
        "gal", "gallon", "hp", "ft", "feet", "inch", "in_",
    ];
    let part = |c: char| c.is_alphanumeric() || c == '³' || c == '°';
    if let Some(at) = text.find('$') {
        return Some(around(text, at));
    }
    let mut begin = None;
    let ends = text.char_indices().chain([(text.len(), ' ')]);
    for (at, c) in ends {
        match (begin, part(c)) {
            (None, true) => begin = Some(at),
            (Some(from), false) => {
                let word = text[from..at].trim_start_matches(|c: char| c.is_ascii_digit());
                if us.contains(&word) {
                    return Some(around(text, from));
                }
                begin = None;
            }
            _ => {}
        }
    }
    None
}

fn around(text: &str, at: usize) -> String {
    let from = text[..at]
        .char_indices()
        .rev()
        .nth(80)
        .map_or(0, |(at, _)| at);
    let to = text[at..]
        .char_indices()
        .nth(60)
        .map_or(text.len(), |(more, _)| at + more);
    text[from..to].to_owned()
}

/// Every command on a scenario in SI: no US unit and no dollar on any screen, page, chart or table.
#[test]
fn nothing_of_us_units_is_left() {
    let mut found = Vec::new();
    let mut look = |what: &str, text: &str| {
        if let Some(there) = left_over(text) {
            found.push(format!("{what}: …{there}…"));
        }
    };
    let folder = TempDir::new().expect("a folder");
    let path = folder.path();
    let commands: [&[&str]; 21] = [
        &["check", METRIC, "--summary"],
        &["check", METRIC, "--summary", "--json"],
        &["sources", METRIC],
        &["compare", METRIC, "-n", "20"],
        &["compare", METRIC, "-n", "20", "--judge", "cost_per_m3"],
        &["replay", METRIC, "-n", "10"],
        &["replay", METRIC, "-n", "10", "--against", "By the hour"],
        &["causes", METRIC, "-n", "12"],
        &[
            "habits",
            METRIC,
            "--from",
            "As today",
            "--to",
            "By the hour",
            "-n",
            "12",
        ],
        &["holds", METRIC, "-n", "12"],
        &["staff", METRIC, "-n", "8"],
        &["best", METRIC, "-n", "12"],
        &[
            "tune",
            METRIC,
            "--rule",
            "By the hour",
            "--vary",
            "room_kept_m3=0,0.4",
            "--vary",
            "weight_margin_kg=0,200",
            "-n",
            "8",
        ],
        &[
            "fleet",
            METRIC,
            "--order",
            "School slab",
            "-n",
            "60",
            "--pump-rate",
            "0.6",
        ],
        &[
            "fleet",
            METRIC,
            "--order",
            "School slab",
            "-n",
            "60",
            "--alone",
            "--xlsx",
        ],
        &["replay", METRIC, "--tomorrow"],
        &[
            "replay",
            METRIC,
            "--tickets",
            "t.csv",
            "--ticket-runs",
            "40",
        ],
        &["tickets", "t.csv"],
        &["tickets", "t.csv", METRIC, "--check", "-n", "20"],
        &[
            "trip",
            METRIC,
            "--at",
            "12:00",
            "--new-order",
            "site=Mill floor,volume=16,first=14:30,spacing=20,rate=0.8",
            "--trials",
            "20",
        ],
        &[
            "trip",
            METRIC,
            "--at",
            "09:00",
            "--driver",
            "dn1",
            "--order",
            "Pump house ramp",
            "--trials",
            "20",
        ],
    ];
    for (nth, arguments) in commands.iter().enumerate() {
        let out = format!("o{nth}");
        let filed = nth > 2;
        let more: &[&str] = if filed { &["--out", &out] } else { &[] };
        look(
            &format!("{arguments:?}"),
            &run(path, &[arguments, more].concat()),
        );
        for entry in fs::read_dir(path.join(&out)).into_iter().flatten() {
            let file = entry.expect("an entry").path();
            let name = file.display().to_string();
            if !["html", "csv", "json", "svg", "ron"]
                .iter()
                .any(|end| name.ends_with(end))
            {
                continue;
            }
            let text = fs::read_to_string(&file).expect("text");
            // Not what makes the page look and move.
            let mut shown = String::new();
            for (nth, piece) in text.split("<style").enumerate() {
                shown += if nth == 0 {
                    piece
                } else {
                    piece.split("</style>").nth(1).unwrap_or("")
                };
            }
            let shown = match shown.split_once("<script>") {
                Some((before, _)) => before.to_owned(),
                None => shown,
            };
            look(&name, &shown);
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

fn problems(text: &str) -> String {
    parse("si.ron", text)
        .expect_err("something is wrong")
        .to_string()
}

#[test]
fn the_other_units_are_told_at_their_place() {
    let metric = fs::read_to_string(METRIC).expect("the scenario");
    let wrong = problems(&metric.replace("volume_m3: 72", "volume_yd3: 94"));
    for part in [
        "this scenario is in SI, and `volume_yd3` is in US units",
        "expected `volume_m3`, in m³",
    ] {
        assert!(wrong.contains(part), "{wrong}");
    }
    assert!(!wrong.contains("missing"), "{wrong}");
    let wrong = problems(&day(false).replacen("volume_yd3: 90", "volume_m3: 68.8", 1));
    for part in [
        "this scenario is in US units, and `volume_m3` is in SI",
        "expected `volume_yd3`, or `units: si`",
    ] {
        assert!(wrong.contains(part), "{wrong}");
    }
    // Ranges and names are told in the scenario's units.
    let wrong = problems(
        &metric
            .replace("capacity_m3: 6", "capacity_m3: 60")
            .replace("empty_kg: 11000", "emty_kg: 11000"),
    );
    for part in ["m³, 0.7646 to 15.29", "unknown field `emty_kg` in a truck"] {
        assert!(wrong.contains(part), "{wrong}");
    }
    let wrong = problems(
        &metric
            .replace("units: si", "units: metric")
            .replace("\"€\"", "\"euros\""),
    );
    for part in [
        "unknown system of units `metric`",
        "expected one of us, si",
        "is no sign of a currency",
    ] {
        assert!(wrong.contains(part), "{wrong}");
    }
    // What follows from that is not told besides.
    assert!(!wrong.contains("in SI"), "{wrong}");
}

/// Loads of 8 m³ go into 96 m³ twelve times, and €95 a m³ are €95, not €95.0031.
#[test]
fn whole_numbers_of_si_stay_whole() {
    let scenario: Scenario =
        parse("si.ron", &fs::read_to_string(METRIC).expect("the scenario")).expect("fine");
    let slab = &scenario.orders[1];
    assert_eq!(slab.volume.loads_of(slab.load), 12);
    assert_eq!(slab.load, scenario.trucks[0].capacity);
    // 1,000 m³ are 1307.95061931 yd³.
    assert_eq!(
        scenario.money.material_per_yd3.times(1307.9506193143922).0,
        9_500_000
    );
}
