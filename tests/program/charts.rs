//! Charts: nothing cut, nothing overlapping, names shown as text, the same bytes every time.
//!
//! Widths and positions of text are taken from an independent reader of SVG (usvg), not from our own measuring. Escaping
//! follows XML 1.0, section 2.4.

use plantday::report::chart::differences::{Better, Difference, Differences, svg};
use plantday::report::number::Unit;
use plantday::statistics::Interval;
use proptest::prelude::*;

fn row(name: &str, mean: f64, half: f64) -> Difference {
    Difference {
        name: name.into(),
        mean: Some(mean),
        interval: Interval::around(mean, half),
        begins: None,
    }
}

fn chart(rows: Vec<Difference>) -> Differences {
    Differences {
        title: "Soonest on site saves about $3,900 a week against today's rule".into(),
        subtitle: "Mean difference over the same 400 weeks, with 95 % intervals".into(),
        baseline: "today: nearest truck".into(),
        axis: "cost per week, dollars more or less than today".into(),
        unit: Unit::Money,
        better: Better::Lower,
        rows,
    }
}

fn four() -> Differences {
    chart(vec![
        row("Soonest on site", -3912.4, 310.0),
        row("Home within every clock, 95 %", -2210.0, 420.0),
        row("Fewest hours worked", 140.0, 390.0),
        row("Longest idle", 1830.0, 510.0),
    ])
}

#[test]
fn every_difference_is_named_with_its_verdict_and_interval() {
    let text = svg(&four());
    for part in [
        "−$3,912 better",
        "−$4,222 to −$3,602",
        "+$140 not told apart",
        "+$1,830 worse",
        "today: nearest truck",
        "Home within every clock, 95 %",
    ] {
        assert!(text.contains(part), "{part} is missing");
    }
    assert!(text.contains("role=\"img\"") && text.contains("<title>Soonest"));
    assert_eq!(text, svg(&four()));
}

#[test]
fn more_can_be_better() {
    let mut higher = chart(vec![
        row("Lend always", 0.04, 0.01),
        row("Paced", -0.04, 0.01),
    ]);
    (higher.unit, higher.better) = (Unit::Share, Better::Higher);
    let text = svg(&higher);
    assert!(text.contains("+4.0 pts better") && text.contains("−4.0 pts worse"));
}

#[test]
fn identical_rules_and_missing_intervals_are_said_so() {
    let mut rows = vec![row("The same", 0.0, 0.0)];
    assert!(svg(&chart(rows.clone())).contains("$0 no difference"));
    rows.push(row("Once", 5.0, f64::INFINITY));
    rows.push(Difference {
        name: "Nothing placed".into(),
        mean: None,
        interval: Interval::UNBOUNDED,
        begins: None,
    });
    let text = svg(&chart(rows));
    assert!(text.contains("one replication: no interval") && text.contains("no figure"));
}

#[test]
fn names_are_text_and_never_markup() {
    let mut hostile = chart(vec![row(
        "<script>alert('a')</script> & \"b\" ]]>",
        1.0,
        0.5,
    )]);
    hostile.title = "</title><script>alert(1)</script>\u{1b}[31m\u{202e}".into();
    hostile.baseline = "<b onclick=\"x\">&amp;".into();
    let text = svg(&hostile);
    for markup in ["<script", "<b ", "]]>", "\u{1b}", "\u{202e}"] {
        assert!(!text.contains(markup), "{markup:?} came through");
    }
    assert!(text.contains("&lt;script&gt;alert(&apos;a&apos;)&lt;/script&gt; &amp;"));
    assert!(
        text.contains("&amp;amp;"),
        "an entity in a name stays as written"
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]
    #[test]
    fn any_figures_can_be_drawn(
        rows in prop::collection::vec(
            (".{0,60}", prop_oneof![Just(0.0), -1e12..1e12f64, -1e-3..1e-3f64, Just(1e-300), Just(3e38)],
             prop_oneof![Just(0.0), Just(f64::INFINITY), 0.0..1e6f64]),
            1..9,
        ),
    ) {
        let rows = rows.iter().map(|(name, mean, half)| row(name, *mean, *half)).collect();
        let text = svg(&chart(rows));
        prop_assert!(!text.contains("NaN") && text.ends_with("</svg>\n"));
    }
}

#[cfg(feature = "png")]
mod drawn {
    use super::*;
    use plantday::report::chart::png;
    use resvg::usvg;

    /// Left, top, right and bottom of every text in pixels, with the text.
    fn texts(svg: &str) -> Vec<([f32; 4], String)> {
        let mut options = usvg::Options::default();
        for font in [
            &include_bytes!("../../src/report/fonts/Inter-Regular.ttf")[..],
            &include_bytes!("../../src/report/fonts/Inter-Bold.ttf")[..],
        ] {
            options.fontdb_mut().load_font_data(font.to_vec());
        }
        let tree = usvg::Tree::from_str(svg, &options).unwrap();
        let mut found = Vec::new();
        collect(tree.root(), &mut found);
        found
    }

    fn collect(group: &usvg::Group, found: &mut Vec<([f32; 4], String)>) {
        for node in group.children() {
            match node {
                usvg::Node::Group(group) => collect(group, found),
                usvg::Node::Text(text) => {
                    let b = text.abs_bounding_box();
                    let words = text.chunks().iter().map(|chunk| chunk.text()).collect();
                    found.push(([b.left(), b.top(), b.right(), b.bottom()], words));
                }
                _ => {}
            }
        }
    }

    fn nothing_is_cut_or_overlaps(differences: &Differences) {
        let text = svg(differences);
        let tag = text.split_once("height=\"").unwrap().1;
        let height: f32 = tag.split_once('"').unwrap().0.parse().unwrap();
        let texts = texts(&text);
        assert!(texts.len() > 8, "only {} texts", texts.len());
        for ([left, top, right, bottom], words) in &texts {
            let inside = *left >= 0.0 && *right <= 760.0 && *top >= 0.0 && *bottom <= height;
            assert!(inside, "{words} is cut: {left} {top} {right} {bottom}");
        }
        for (at, (a, first)) in texts.iter().enumerate() {
            for (b, second) in &texts[at + 1..] {
                // Boxes include room for accents, so lines of one block may touch by a pixel or two.
                let apart =
                    a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] + 3.0 || b[3] <= a[1] + 3.0;
                assert!(apart, "{first} {a:?} and {second} {b:?} overlap");
            }
        }
    }

    #[test]
    fn nothing_is_cut_and_nothing_overlaps() {
        nothing_is_cut_or_overlaps(&four());
        let long =
            "Longest idle truck first, then by seniority, with two drivers in reserve until three";
        let mut eight = chart(
            (0..8)
                .map(|i| {
                    row(
                        &format!("{i} {long}"),
                        123_456.0 - 40_000.0 * f64::from(i),
                        9_000.0,
                    )
                })
                .collect(),
        );
        eight.title = format!("{long}: {long}");
        eight.baseline = format!("today: {long}, {long}");
        nothing_is_cut_or_overlaps(&eight);
        let one_side = chart(vec![
            row("Worse", 900.0, 2.0),
            row("W".repeat(80).as_str(), 1.0, 0.0),
        ]);
        nothing_is_cut_or_overlaps(&one_side);
    }

    #[test]
    fn a_png_has_the_size_asked_for_and_the_same_bytes() {
        let text = svg(&four());
        let picture = png(&text, 2.0).unwrap();
        assert_eq!(&picture[..8], b"\x89PNG\r\n\x1a\n");
        // Width is the first field of the header chunk (PNG specification, third edition, 11.2.1).
        assert_eq!(picture[16..20], 1520_u32.to_be_bytes());
        assert_eq!(picture, png(&text, 2.0).unwrap());
        assert!(png("<svg", 1.0).is_err());
        assert!(png(&text, 0.0).is_err());
    }
}
