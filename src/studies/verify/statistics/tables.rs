//! Tables of quantiles, of shares and of ranks.

use super::super::check::{Basis, Sheet};
use super::{digits, ends};
use crate::statistics::{
    Ranks, normal_quantile, quantile, share_at_least, share_at_most, t_critical, t_quantile,
    trials_without_event, wilson,
};

pub(super) fn check(sheet: &mut Sheet) {
    student(sheet);
    shares(sheet);
    ranks(sheet);
    quantiles(sheet);
}

fn student(sheet: &mut Sheet) {
    sheet.about(
        "Student's t, two-sided",
        Basis::Memory,
        "Standard t table: 2.132, 2.776, 4.604 with 4 degrees of freedom; digits with SciPy",
    );
    for (df, expected) in [
        (4.0, [2.131_846_79, 2.776_445_11, 4.604_094_87]),
        (9.0, [1.833_112_93, 2.262_157_16, 3.249_835_54]),
        (19.0, [1.729_132_81, 2.093_024_05, 2.860_934_61]),
        (39.0, [1.684_875_12, 2.022_690_92, 2.707_913_18]),
        (99.0, [1.660_391_16, 1.984_216_95, 2.626_405_46]),
    ] {
        for (level, expected) in [0.90, 0.95, 0.99].into_iter().zip(expected) {
            let figure = format!("at {:.0}%, {df} degrees of freedom", 100.0 * level);
            digits(sheet, figure, t_critical(level, df), expected);
        }
    }
    sheet.about(
        "Student's t of many degrees of freedom",
        Basis::Computed,
        "SciPy",
    );
    for (words, df, expected) in [
        ("999", 999.0, 1.962_341_461_133_449_3),
        ("10 million", 1e7, 1.959_963_984_540_054 + 2.372_3e-7),
        ("a trillion", 1e12, 1.959_963_984_540_054),
    ] {
        let figure = format!("at 97.5%, one-sided, {words} degrees of freedom");
        sheet.near(figure, t_quantile(0.975, df), expected, 1e-9);
    }
    sheet.about(
        "Normal quantiles, two-sided",
        Basis::Memory,
        "Standard normal table: 1.645, 1.960, 2.576; digits with SciPy",
    );
    for (level, expected) in [
        (0.90, 1.644_853_63),
        (0.95, 1.959_963_98),
        (0.99, 2.575_829_3),
    ] {
        let figure = format!("at {:.0}%", 100.0 * level);
        digits(sheet, figure, normal_quantile(0.5 + level / 2.0), expected);
    }
}

fn shares(sheet: &mut Sheet) {
    sheet.about(
        "Score interval of a share, 95%",
        Basis::Memory,
        "Newcombe, Statistics in Medicine 17 (1998), method 3: .2553 to .3662, .0624 to .1605, 0 to .1611, .0061 to .1718; digits with SciPy",
    );
    for (events, trials, low, high) in [
        (81, 263, 0.255_288_52, 0.366_209_577),
        (15, 148, 0.062_386_399_5, 0.160_487_242),
        (0, 20, 0.0, 0.161_125_158),
        (1, 29, 0.006_113_214_29, 0.171_755_219),
        (682, 925, 0.707_995_988, 0.764_635_801),
    ] {
        let of = format!("{events} of {trials}");
        ends(sheet, &of, wilson(events, trials, 0.95), (low, high));
    }
    sheet.about(
        "Exact bounds of a share, 2.5% on each side",
        Basis::Memory,
        "Clopper, Pearson, Biometrika 26 (1934); Conover (1971) as in R's binom.test: 682 of 925, .7076683 to .7654066; digits with SciPy",
    );
    for (events, trials, low, high) in [
        (81, 263, 0.252_736_746, 0.367_621_923),
        (15, 148, 0.057_844_010_1, 0.161_650_49),
        (0, 20, 0.0, 0.168_433_471),
        (1, 29, 0.000_872_646_884, 0.177_644_295),
        (682, 925, 0.707_668_264, 0.765_406_558),
    ] {
        let of = format!("{events} of {trials}");
        let low_found = share_at_least(events, trials, 0.975);
        digits(sheet, format!("{of}, at least"), low_found, low);
        let high_found = share_at_most(events, trials, 0.975);
        digits(sheet, format!("{of}, at most"), high_found, high);
    }
    sheet.about(
        "Trials without an event that show a share",
        Basis::Memory,
        "Attribute sampling tables of zero-failure plans: 59 for 5%, 299 for 1%, 230 for 1% at 90%",
    );
    for (share, level, trials) in [
        (0.05, 0.95, 59_u64),
        (0.01, 0.95, 299),
        (0.01, 0.9, 230),
        (0.5, 0.75, 2),
    ] {
        let found = trials_without_event(share, level).map_or(f64::NAN, |trials| trials as f64);
        let figure = format!("share {share} with confidence {level}");
        sheet.near(figure, found, trials as f64, 0.0);
    }
    sheet.about(
        "No event in many trials: three in so many at most",
        Basis::Memory,
        "Hanley, Lippman-Hand, JAMA 249 (1983), the rule of three: (1 − share)^n = 5%, share × n about 3",
    );
    for trials in [30_u64, 100, 1000, 1_000_000] {
        let bound = share_at_most(0, trials, 0.95);
        let unseen = (trials as f64 * (-bound).ln_1p()).exp();
        digits(sheet, format!("(1 − share)^n of {trials}"), unseen, 0.05);
        sheet.near(
            format!("share × n of {trials}"),
            bound * trials as f64,
            3.0,
            0.15,
        );
    }
}

fn ranks(sheet: &mut Sheet) {
    sheet.about(
        "Order statistics around a median, how sure",
        Basis::Printed,
        "A textbook's table of median intervals: 97.9, 89.1, 96.5, 95.9, 98.8, 88.5%; digits by binomial sums",
    );
    for (n, low, high, coverage) in [
        (10, 2, 9, 0.978_515_625),
        (10, 3, 8, 0.890_625),
        (15, 4, 12, 0.964_843_75),
        (20, 6, 15, 0.958_610_535),
        (20, 5, 16, 0.988_182_068),
        (20, 7, 14, 0.884_681_702),
    ] {
        let figure = format!("ranks {low} and {high} of {n}");
        digits(
            sheet,
            figure,
            Ranks { low, high }.coverage(n, 0.5),
            coverage,
        );
    }
    for (n, low, high) in [(10, 2, 9), (15, 4, 12), (20, 6, 15)] {
        let found = Ranks::enclosing(n, 0.5, 0.95);
        let told = |ranks: Ranks| format!("{} and {}", ranks.low, ranks.high);
        let figure = format!("ranks of {n} for 95%");
        sheet.words(
            figure,
            found.map_or("none".into(), told),
            told(Ranks { low, high }),
        );
    }
    sheet.about(
        "Order statistics around another quantile, how sure",
        Basis::Computed,
        "Binomial sums with SciPy",
    );
    for (n, p, low, high, coverage) in [
        (100, 0.5, 40, 61, 0.964_799_8),
        (100, 0.9, 85, 96, 0.936_398_39),
        (200, 0.95, 184, 197, 0.967_152_164),
        (500, 0.95, 465, 485, 0.960_498_736),
    ] {
        let figure = format!("quantile {p}: ranks {low} and {high} of {n}");
        digits(sheet, figure, Ranks { low, high }.coverage(n, p), coverage);
    }
}

fn quantiles(sheet: &mut Sheet) {
    sheet.about(
        "Quantiles of 3, 5, 7, 8, 9, 11, 13, 15, 18, 21",
        Basis::Computed,
        "Hyndman, Fan, American Statistician 50 (1996), definition 7, from memory; digits with SciPy",
    );
    let values = [13.0, 3.0, 21.0, 7.0, 8.0, 9.0, 11.0, 5.0, 15.0, 18.0];
    for (p, expected) in [
        (0.5, 10.0),
        (0.9, 18.3),
        (0.95, 19.65),
        (0.0, 3.0),
        (1.0, 21.0),
    ] {
        let found = quantile(values, p).unwrap_or(f64::NAN);
        digits(sheet, format!("quantile {p}"), found, expected);
    }
}
