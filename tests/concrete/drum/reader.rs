//! What is said about mixes, axles and yard practice that are wrong, and what is understood of those that are right.

use super::day::{figures, loads};
use super::on_paper::{DAY, changed};
use plantday::concrete::{ConcreteTemperature, HrwrKind, Sensitivity};
use plantday::dispatch::{HrwrAt, ReadAfter, Warning, WaterBy};
use plantday::observe::figure;
use plantday::scenario::parse;

/// The day with one thing changed has exactly these problems: each where its first text stands in the file.
#[track_caller]
fn wrong(from: &str, to: &str, problems: &[(&str, &str)]) {
    let text = changed(&[(from, to)]);
    let faults = parse("day.ron", &text).expect_err("something is wrong");
    let expected: Vec<String> = problems
        .iter()
        .map(|(at, problem)| {
            let before = &text[..text.find(at).expect("the file has it")];
            let (line, column) = match before.rfind('\n') {
                Some(end) => (before.matches('\n').count() + 1, before.len() - end),
                None => (1, before.len() + 1),
            };
            format!("day.ron:{line}:{column}: {problem}")
        })
        .collect();
    assert_eq!(faults.to_string().trim_end(), expected.join("\n"));
}

#[test]
fn problems_of_mixes() {
    // 3 + 5 + 10 ft³, 0.0535 of HRWR, 0.54 of air, and 1,000 ÷ (2.64 × 62.4) = 6.0703 of fine aggregate: 24.66.
    wrong(
        "coarse_lb: 1672.32,",
        "coarse_lb: 1672.32, fine_lb: 1000,",
        &[(
            "1000, hrwr",
            "the absolute volumes add up to 24.66 ft³, 2.34 ft³ less than the 27 ft³ of a cubic yard \
         (expected masses that fill 27 ft³; without `fine_lb` it is computed)",
        )],
    );
    wrong(
        "coarse_lb: 1672.32,",
        "coarse_lb: 4500,",
        &[(
            "(name: \"standard\", cement",
            "the materials without fine aggregate fill 35.50 ft³ of the 27 ft³ of a cubic yard \
         (expected a mix that can be made)",
        )],
    );
    wrong(
        "retarder: false",
        "most_wc: 0.5",
        &[(
            "0.5)",
            "the mix has a w/c of 0.529, above its own limit of 0.500 (expected at least 0.529, or less water)",
        )],
    );
    wrong(
        "name: \"standard\"",
        "name: \"standart\"",
        &[(
            "(name: \"W\"",
            "the mix \"standard\" is not described in `concrete` (expected one of standart)",
        )],
    );
    wrong(
        "age_limit_min: 90",
        "age: \"hot air\"",
        &[(
            "\"hot air\"",
            "unknown table of age limits \"hot air\" (expected one of default, astm_c94_to_2013, retarder_120, \
         retarder_90, hot_air, warm_air_60, bs_8500, minutes_105, air_90_to_45, air_60_to_30, mild_air_60, \
         cool_concrete_105)",
        )],
    );
    wrong(
        "age_limit_min: 90",
        "age: \"hong_kong\"",
        &[(
            "\"hong_kong\"",
            "the table of age limits \"hong_kong\" has another name (expected \"minutes_105\")",
        )],
    );
    wrong(
        "age_limit_min: 90",
        "rack: (misread: 0.1)",
        &[(
            "(misread",
            "`rack` stands beside `mixes` \
         (expected one of the two: `mixes` computes what `rack` gives as shares of loads)",
        )],
    );
    // What air and warmth do, the kind of HRWR, and what other binder counts as.
    wrong(
        "meter: (sd_in: 0)",
        "sensitivity: (strength_per_air: 5, air_per_gal: -1), concrete_per_air_f: 2, meter: (sd_in: 0)",
        &[
            (
                "5, air_per",
                "5 is out of range (expected share of the strength, 0 to 0.5)",
            ),
            (
                "-1)",
                "-1 is out of range (expected per cent for each gal/yd³, 0 to 3)",
            ),
            (
                "2, meter",
                "2 is out of range (expected °F for each °F, 0 to 1.2)",
            ),
        ],
    );
    wrong(
        "retarder: false",
        "hrwr_kind: Short, binder_counts: 40",
        &[
            (
                "Short",
                "unknown kind of HRWR `Short` (expected one of Extended, Older)",
            ),
            ("40)", "40 is out of range (expected of cement, 0 to 1.5)"),
        ],
    );
    wrong(
        "Abrams(14000, 8)",
        "Abrams(14000, 1)",
        &[(
            "1), retarder",
            "1 is out of range (expected factor, more than 1, at most 100)",
        )],
    );
}

#[test]
fn problems_of_axles_and_yard_practice() {
    wrong(
        "capacity_yd3: 10.5",
        "axles: [(at_ft: 0, empty_lb: 12000, share: 0.3), (at_ft: 15, empty_lb: 16000, share: 0.3)]",
        &[(
            "[(at_ft",
            "the axles bear 0.600 of the concrete, not 1 \
         (expected axles from front to back, with shares that add up to 1)",
        )],
    );
    wrong(
        "read_after: Minutes(0)",
        "read_after: Minute(0)",
        &[(
            "Minute(",
            "unknown wait before the reading `Minute` (expected one of Minutes, Revolutions)",
        )],
    );
    wrong(
        "read_after: Minutes(0)",
        "warning: Always, hrwr: Site",
        &[
            (
                "Always",
                "unknown warning `Always` (expected one of Never, OnAdmixture, OnEverything)",
            ),
            (
                "Site, most",
                "unknown place for HRWR `Site` (expected one of AtPlant, OnSite)",
            ),
        ],
    );
}

#[test]
fn what_air_warmth_and_binder_do_is_read() {
    let text = changed(&[
        ("retarder: false", "hrwr_kind: Older, binder_counts: 0.6"),
        (
            "meter: (sd_in: 0)",
            "sensitivity: (strength_per_air: 0.04, slump_in_per_air: 0.3, air_per_gal: 0.5, strength_per_18_f: 0.08), \
             concrete_per_air_f: 0.44, water_for_heat: false, meter: (sd_in: 0)",
        ),
    ]);
    let read = |text: &str| {
        let scenario = parse("day", text).unwrap_or_else(|faults| panic!("{faults}"));
        scenario.concrete.material.expect("mixes are described")
    };
    let material = read(&text);
    let mix = material.mixes[0].mix;
    assert_eq!((mix.hrwr_kind, mix.binder_counts), (HrwrKind::Older, 0.6));
    let written = Sensitivity {
        strength_per_air: 0.04,
        slump_in_per_air: 0.3,
        air_per_gal: 0.5,
        strength_per_18_f: 0.08,
    };
    assert_eq!(material.sensitivity(), written);
    assert!(!material.water_for_heat && material.temperature.per_air == 0.44);
    let usual = read(DAY);
    let mix = usual.mixes[0].mix;
    assert_eq!(usual.sensitivity(), Sensitivity::USUAL);
    assert_eq!(
        (mix.hrwr_kind, mix.binder_counts, usual.water_for_heat),
        (HrwrKind::Extended, 0.4, true)
    );
    assert_eq!(usual.temperature, ConcreteTemperature::USUAL);
}

#[test]
fn yard_practice_is_read() {
    let yard = |text: &str| {
        let text = changed(&[("yard: (read_after: Minutes(0), most_gal_yd3: 20)", text)]);
        let scenario = parse("day", &text).unwrap_or_else(|faults| panic!("{faults}"));
        (scenario.rules[0].yard, scenario.rules[0].yard.warns())
    };
    let (usual, warned) = yard("");
    assert_eq!(usual.warning, Warning::Never);
    assert_eq!(usual.read_after, None);
    assert_eq!(usual.reading(), ReadAfter::Minutes(2.0));
    assert_eq!(
        (usual.water_by, usual.hrwr),
        (WaterBy::Driver, HrwrAt::AtPlant)
    );
    assert!(!usual.probe && !warned);
    let (some, warned) = yard("yard: (warning: OnAdmixture)");
    assert_eq!(some.warning, Warning::OnAdmixture);
    assert!(warned);
    let (long, warned) = yard(
        "yard: (warning: OnEverything, read_after: Revolutions(70), water_by: Batcher, most_gal_yd3: 3, probe: true, hrwr: OnSite)",
    );
    assert_eq!(long.warning, Warning::OnEverything);
    assert_eq!(long.read_after, Some(ReadAfter::Revolutions(70.0)));
    assert_eq!(
        (long.water_by, long.hrwr),
        (WaterBy::Batcher, HrwrAt::OnSite)
    );
    assert!(long.probe && warned && long.most_gal_yd3 == 3.0);
}

/// Three axles over 20 ft may weigh 51,000 lb (23 U.S.C. 127: 500 (20 × 3 ÷ 2 + 12 × 3 + 36)); 28,000 lb of them are the
/// empty truck: 23,000 lb of concrete, 5.804 yd³ of the mix, which weighs 3,962.2 lb a yd³.
#[test]
fn the_bridge_formula_cuts_a_load() {
    let axles = "axles: [(at_ft: 0, empty_lb: 12000, share: 0.25), (at_ft: 15.5, empty_lb: 8000, share: 0.375), \
                 (at_ft: 20, empty_lb: 8000, share: 0.375)], capacity_yd3: 10.5";
    // Nobody weighs the empty truck.
    let cut = changed(&[
        ("(name: \"P\",", "(name: \"P\", truck_scale: false,"),
        ("capacity_yd3: 10.5", axles),
        ("volume_yd3: 10,", "volume_yd3: 5.9,"),
        ("read_after: Minutes(0)", "read_after: Minutes(5)"),
    ]);
    assert_eq!(loads(&cut).lines().count(), 2, "{}", loads(&cut));
    let margin = cut.replace("room_kept_yd3: 0.5", "weight_margin_lb: 500");
    let heavy = |text: &str, over_lb: u32| {
        let empty = format!("weighing: (empty_over_lb: {over_lb}, empty_sd_lb: 0), rules:");
        figures(&text.replace("rules:", &empty), &[figure::HEAVY])[0]
    };
    // The first load is full to the pound: legal if the empty truck weighs what is booked, and not if it weighs 400 lb more,
    // unless the rule keeps 500.
    let found = [&cut, &margin].map(|text| [0, 400, 800].map(|over_lb| heavy(text, over_lb)));
    assert_eq!(found, [[0.0, 1.0, 1.0], [0.0, 0.0, 1.0]]);
    assert!(DAY.contains("legal_gross_lb: None"));
}
