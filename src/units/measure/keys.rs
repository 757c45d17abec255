//! Names of fields and columns, which end with their unit: `volume_yd3` is `volume_m3` where SI is spoken.

use super::{Quantity, is_si};
use std::borrow::Cow;

/// Names whose unit is not said by parts of their own, or which would be odd in SI.
const WHOLE: [(&str, &str, Quantity); 20] = [
    ("miles_at_mph", "km_at_kmh", Quantity::Speed),
    (
        "short_haul_air_miles",
        "short_haul_air_km",
        Quantity::AirMiles,
    ),
    ("air_per_gal", "air_per_l", Quantity::PerDose),
    ("at_ft", "at_m", Quantity::Length),
    ("f", "c", Quantity::Temperature),
    ("mean_f", "mean_c", Quantity::Temperature),
    ("temperature_f", "temperature_c", Quantity::Temperature),
    ("above_f", "above_c", Quantity::Temperature),
    ("up_to_f", "up_to_c", Quantity::Temperature),
    ("swing_f", "swing_c", Quantity::Warmth),
    ("temperature_sd_f", "temperature_sd_c", Quantity::Warmth),
    (
        "concrete_at_70_f",
        "concrete_at_21_c",
        Quantity::Temperature,
    ),
    ("concrete_per_air_f", "concrete_per_air_c", Quantity::Ratio),
    ("strength_per_18_f", "strength_per_10_c", Quantity::Ratio),
    ("slump_in", "slump_mm", Quantity::Slump),
    ("slump_tolerance_in", "slump_tolerance_mm", Quantity::Slump),
    ("yard_slump_in", "yard_slump_mm", Quantity::Slump),
    ("by_eye_in", "by_eye_mm", Quantity::Slump),
    ("sd_in", "sd_mm", Quantity::Slump),
    ("slump_in_per_air", "slump_mm_per_air", Quantity::Slump),
];

/// Parts of names, longer ones first.
const PARTS: [(&str, &str, Quantity); 13] = [
    ("lb_per_yd3", "kg_per_m3", Quantity::Density),
    ("gal_yd3", "l_m3", Quantity::Dose),
    ("per_yd3", "per_m3", Quantity::PerVolume),
    ("per_mile", "per_km", Quantity::PerDistance),
    ("per_lb", "per_kg", Quantity::PerWeight),
    ("yd3", "m3", Quantity::Volume),
    ("lb", "kg", Quantity::Weight),
    ("miles", "km", Quantity::Distance),
    ("mph", "kmh", Quantity::Speed),
    ("psi", "mpa", Quantity::Strength),
    ("gal", "l", Quantity::Water),
    ("hp", "kw", Quantity::Power),
    ("inches", "mm", Quantity::Slump),
];

/// The name with one part for another, if it has it.
fn with_part(name: &str, from: &str, to: &str) -> Option<String> {
    let mut begin = 0;
    while let Some(at) = name[begin..].find(from) {
        let (start, end) = (begin + at, begin + at + from.len());
        let free = |edge: Option<char>| edge.is_none_or(|c| c == '_');
        if free(name[..start].chars().last()) && free(name[end..].chars().next()) {
            return Some(format!("{}{to}{}", &name[..start], &name[end..]));
        }
        begin = end;
    }
    None
}

/// The name in SI of one in US units, and what is measured; none if it names no unit.
pub fn in_si(us: &str) -> Option<(Cow<'static, str>, Quantity)> {
    let whole = WHOLE.iter().find(|(name, ..)| *name == us);
    if let Some((_, si, quantity)) = whole {
        return Some((Cow::Borrowed(si), *quantity));
    }
    PARTS.iter().find_map(|(from, to, quantity)| {
        let name = with_part(us, from, to)?;
        Some((Cow::Owned(name), *quantity))
    })
}

/// The name as it is told here, and what its numbers measure if they change with it.
pub fn key(us: &str) -> (Cow<'_, str>, Option<Quantity>) {
    match in_si(us).filter(|_| is_si()) {
        Some((name, quantity)) => (name, Some(quantity)),
        None => (Cow::Borrowed(us), None),
    }
}

/// The name in US units of one in SI; none if it names no unit of SI.
pub fn us_key(si: &str) -> Option<Cow<'static, str>> {
    let whole = WHOLE.iter().find(|(_, name, _)| *name == si);
    if let Some((us, ..)) = whole {
        return Some(Cow::Borrowed(us));
    }
    let part = |(to, from, _): &(&str, &str, Quantity)| with_part(si, from, to);
    PARTS.iter().find_map(part).map(Cow::Owned)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_there_and_back() {
        for (us, si) in [
            ("volume_yd3", "volume_m3"),
            ("material_per_yd3", "material_per_m3"),
            ("pour_rate_yd3_h", "pour_rate_m3_h"),
            ("cost_per_yd3_low", "cost_per_m3_low"),
            ("most_gal_yd3", "most_l_m3"),
            ("legal_gross_lb", "legal_gross_kg"),
            ("cement_per_lb", "cement_per_kg"),
            ("straight_line_mph", "straight_line_kmh"),
            ("miles_at_mph", "km_at_kmh"),
            ("slump_in", "slump_mm"),
            ("mean_f", "mean_c"),
            ("psi_lost", "mpa_lost"),
        ] {
            assert_eq!(in_si(us).map(|(name, _)| name).as_deref(), Some(si));
            assert_eq!(us_key(si).as_deref(), Some(us));
        }
        for none in [
            "spacing_min",
            "report",
            "bay_in",
            "gallery",
            "half_lbs",
            "name",
        ] {
            assert_eq!(in_si(none), None, "{none}");
            assert_eq!(us_key(none), None, "{none}");
        }
    }
}
