//! The concrete in the drum, and the mixes where they are described.

use super::Source::{Memory, Off, Practice, Published};
use super::{Value, defaults};
use crate::concrete::{
    AgeTable, AirTemperature, ConcreteTemperature, DryUpWith, Gravities, HrwrKind, Reuse,
    Sensitivity, SlumpMeter, StrengthLaw,
};
use crate::engine::Spread;
use crate::units::Volume;
use crate::units::measure::{self, Quantity};

const METER: SlumpMeter = SlumpMeter::USUAL;
const GRAVITIES: Gravities = Gravities::USUAL;
const SENSITIVITY: Sensitivity = Sensitivity::USUAL;
const FOLLOWS: ConcreteTemperature = ConcreteTemperature::USUAL;
const REUSE: Reuse = Reuse::USUAL;

defaults! {
    AGE_LIMIT: f64 = 90.0, "concrete.age_limit_min", "min",
        "age limit from batching to the end of unloading (with mixes: that of their table; None: no limit)",
        Published("90 min: ASTM C94 until 2021; since then the parties state it");
    RACK_CHECK: () = (), "concrete.rack", "", "loads that are misread at the slump rack", Off;
    MISREAD: f64 = 0.04, "concrete.rack.misread", "share of loads", "loads whose slump is misread", Practice("");
    MISREAD_IF_WARNED: f64 = 0.01, "concrete.rack.misread_if_warned", "share of loads", "the same where the ticket warns", Practice("");
    FOUND: f64 = 0.8, "concrete.rack.found", "share of wet loads", "wet loads that are found at the slump rack", Practice("");
    DRY_UP_ROOM_YD3: f64 = 0.4, "concrete.rack.dry_up_room_yd3", "yd³", "drum room that stiffening a wet load takes", Practice("");
    DRY_UP: Spread = Spread::Triangular { low: 6.0, mode: 9.0, high: 15.0 }, "concrete.rack.dry_up", "min",
        "stiffening a wet load, in the bay", Practice("");
    EMPTY: Spread = Spread::Constant(15.0), "concrete.empty", "min", "emptying a truck at the plant", Practice("");
    REUSED: () = (), "concrete.reuse", "", "returned concrete under the next load", Off;
    REUSE_AGE_MIN: f64 = REUSE.age_limit.0 as f64 / 60_000.0, "concrete.reuse.age_limit_min", "min", "oldest returned concrete that is reused",
        Practice("ASTM C1798 leaves the permission to the purchaser");
    REUSE_SHARE: f64 = REUSE.share, "concrete.reuse.share", "share of the next load", "most returned concrete under a load",
        Practice("ASTM C1798 leaves the permission to the purchaser");

    BINDER_LB: f64 = 0.0, "concrete.mixes.binder_lb", "lb/yd³", "other binder of a mix", Off;
    HRWR_LB: f64 = 0.0, "concrete.mixes.hrwr_lb", "lb/yd³", "high-range water reducer of a mix", Off;
    AIR: f64 = 2.0, "concrete.mixes.air", "%", "air of a mix", Memory("ACI 211.1, entrapped air at 3/4 in stone");
    AIR_TOLERANCE: f64 = 1.5, "concrete.mixes.air_tolerance", "% either way", "tolerance of the air", Memory("ASTM C94");
    SLUMP_IN: f64 = 4.0, "concrete.mixes.slump_in", "in", "slump on site", Published("4 in in ACI 301, as a testing firm quotes it");
    SLUMP_TOLERANCE: () = (), "concrete.mixes.slump_tolerance_in", "in", "tolerance of the slump (left out: by the slump)",
        Memory("ASTM C94, nominal slumps: ± 1/2 in up to 2, ± 1 up to 4, ± 1 1/2 above");
    YARD_SLUMP_MORE_IN: f64 = 1.0, "concrete.mixes.yard_slump_in", "in", "slump at the bay (left out: so much more than on site)", Practice("");
    STRENGTH: StrengthLaw = StrengthLaw::AciPlain, "concrete.mixes.strength", "", "strength by w/c",
        Published("ACI 211.1, concrete that is not air-entrained");
    RETARDER: bool = false, "concrete.mixes.retarder", "", "the mix has a retarder", Off;
    HRWR_KIND: HrwrKind = HrwrKind::Extended, "concrete.mixes.hrwr_kind", "", "kind of high-range water reducer",
        Published("\"Flowing concrete produced at the batch plant\": 1 to 3 h; older kinds 30 to 60 min");
    BINDER_COUNTS: f64 = 0.4, "concrete.mixes.binder_counts", "of cement", "what the other binder counts as for strength",
        Published("EN 206, k-value of fly ash");
    CEMENT: f64 = GRAVITIES.cement, "concrete.mixes.gravities.cement", "", "specific gravity of cement", Memory("handbooks on mix design");
    BINDER: f64 = GRAVITIES.binder, "concrete.mixes.gravities.binder", "", "specific gravity of the other binder", Memory("handbooks on mix design");
    FINE: f64 = GRAVITIES.fine, "concrete.mixes.gravities.fine", "", "specific gravity of fine aggregate", Memory("handbooks on mix design");
    COARSE: f64 = GRAVITIES.coarse, "concrete.mixes.gravities.coarse", "", "specific gravity of coarse aggregate", Memory("handbooks on mix design");
    HRWR: f64 = GRAVITIES.hrwr, "concrete.mixes.gravities.hrwr", "", "specific gravity of high-range water reducer", Memory("handbooks on mix design");

    METER_SD_IN: f64 = METER.sd_in, "concrete.meter.sd_in", "in", "error of the slump meter (standard deviation)", Practice("");
    METER_REVOLUTIONS: f64 = METER.revolutions, "concrete.meter.revolutions", "revolutions", "mixing before the meter sees an admixture",
        Memory("agency specifications; 70 to 100 revolutions mix a load, NRMCA");
    METER_MINUTES: f64 = METER.minutes, "concrete.meter.minutes", "min", "or minutes of mixing before the meter sees it",
        Memory("agency specifications; 5 min mix a load, NRMCA");
    FINE_WATER: f64 = 0.05, "concrete.moisture.fine", "share of its weight", "water on fine aggregate", Practice("");
    COARSE_WATER: f64 = 0.01, "concrete.moisture.coarse", "share of its weight", "water on coarse aggregate", Practice("");
    FINE_SD: f64 = 0.004, "concrete.moisture.fine_sd", "share of its weight", "error about the water on fine aggregate (standard deviation)", Practice("");
    COARSE_SD: f64 = 0.0015, "concrete.moisture.coarse_sd", "share of its weight", "error about the water on coarse aggregate (standard deviation)", Practice("");
    PROBE_SHARE: f64 = 0.25, "concrete.moisture.probe_share", "share of the error", "what a moisture probe leaves of these errors", Practice("");
    TEMPERATURE: AirTemperature = AirTemperature::Steady(70.0), "concrete.temperature", "", "air temperature", Practice("");
    TEMPERATURE_SD_F: f64 = 0.0, "concrete.temperature_sd_f", "°F", "warmer and colder days (standard deviation)", Off;
    CONCRETE_AT_70_F: f64 = FOLLOWS.at_70_f, "concrete.concrete_at_70_f", "°F", "concrete at the bay in air of 70 °F", Practice("");
    CONCRETE_PER_AIR_F: f64 = FOLLOWS.per_air, "concrete.concrete_per_air_f", "°F", "warmth of the concrete for each °F of the air",
        Published("\"If you get it when it's hot\", Concrete Construction: specific heats, aggregates and water as warm as the air");
    WATER_FOR_HEAT: bool = true, "concrete.water_for_heat", "", "mixing water is set by the weather, within the mix's w/c",
        Published("SDSU Extension Extra 1006: 33 lb/yd³ from 50 to 100 °F");
    STRENGTH_PER_AIR: f64 = SENSITIVITY.strength_per_air, "concrete.sensitivity.strength_per_air", "share for each % of air", "strength lost to air",
        Published("ACI, answer 657: 5%; \"Effects of too much air\", Concrete Construction: 2% to 6%");
    SLUMP_IN_PER_AIR: f64 = SENSITIVITY.slump_in_per_air, "concrete.sensitivity.slump_in_per_air", "in for each % of air", "slump of air-entrained concrete by air",
        Published("\"More on entrainment\", Concrete Construction");
    AIR_PER_GAL: f64 = SENSITIVITY.air_per_gal, "concrete.sensitivity.air_per_gal", "% for each gal/yd³", "air that added water brings to air-entrained concrete",
        Published("\"Adding water\", Concrete Construction: 0.5% to 1%");
    STRENGTH_PER_18_F: f64 = SENSITIVITY.strength_per_18_f, "concrete.sensitivity.strength_per_18_f", "share for each 18 °F", "strength lost to warmth",
        Published("\"How to cope with high concrete temperatures\", Concrete Construction");
    AGE_TABLE: AgeTable = AgeTable::Default, "concrete.age", "", "table of age limits", Published(AgeTable::Default.source());
    REVOLUTION_LIMIT: () = (), "concrete.revolution_limit", "revolutions", "limit on revolutions (left out: that of the table)", Off;
    WAIVER: bool = false, "concrete.waiver", "", "the purchaser waives the age limit for a load that needs no water", Off;
    TICKETS_READ: f64 = 0.8, "concrete.tickets.read", "share of tickets", "tickets that are read", Practice("the plant's own habit decides");
    TICKETS_KNOW: f64 = 0.7, "concrete.tickets.knows", "share of those read", "drivers who know that the reading must wait", Practice("");
    TICKETS_WARNED: f64 = 0.98, "concrete.tickets.warned", "share of those read", "the same with a warning where it is needed", Practice("");
    TICKETS_WORN: f64 = 0.8, "concrete.tickets.worn", "share of those read", "the same with a warning on every ticket", Practice("");
    LOOKS_AGAIN: f64 = 0.8, "concrete.corrections.looks_again", "share of loads", "watered loads whose slump is read again", Practice("");
    WAIT_MIN: f64 = 10.0, "concrete.corrections.wait_min", "min", "longest wait for a load that is only a little wet", Practice("");
    DUMP: Volume = Volume::thousandths(1_000), "concrete.corrections.dump_yd3", "yd³", "most that is dumped to make room for stiffening", Practice("");
    DRY_UP_WITH: DryUpWith = DryUpWith::CementAndFine, "concrete.corrections.with", "", "what stiffens a wet load", Practice("");
    CORRECTION_MINUTES: Spread = Spread::Triangular { low: 3.0, mode: 4.0, high: 8.0 }, "concrete.corrections.minutes", "min",
        "charging cement and sand, in the bay", Practice("");
    CEMENT_PER_LB: f64 = 0.07, "concrete.corrections.cement_per_lb", "a pound", "price of cement", Practice("");
    FINE_PER_LB: f64 = 0.01, "concrete.corrections.fine_per_lb", "a pound", "price of fine aggregate", Practice("");
    TESTED: f64 = 0.3, "concrete.on_site.tested", "share of loads", "loads tested on site", Practice("");
    BY_EYE_IN: f64 = 1.5, "concrete.on_site.by_eye_in", "in", "how far beyond its tolerance a slump is seen by eye", Practice("");
    AIR_SD: f64 = 0.7, "concrete.on_site.air_sd", "%", "air that differs from load to load (standard deviation)", Practice("");
    WRONG_MIX: f64 = 0.0005, "concrete.on_site.wrong_mix", "share of loads", "loads of another mix than ordered", Practice("");
    RETEMPER: bool = true, "concrete.on_site.retemper", "", "water may be added on site, once, with authority and within the mix's w/c",
        Published("NRMCA, Concrete in Practice 26");
}

impl From<StrengthLaw> for Value {
    fn from(law: StrengthLaw) -> Self {
        Self::Words(match law {
            StrengthLaw::AciPlain => "table for concrete that is not air-entrained".into(),
            StrengthLaw::AciAirEntrained => "table for air-entrained concrete".into(),
            StrengthLaw::Abrams(law) => {
                let psi = measure::plainly(Quantity::Strength, law.a_psi, 2);
                format!("Abrams' law, {psi} by {} to the w/c", law.b)
            }
        })
    }
}

impl From<HrwrKind> for Value {
    fn from(kind: HrwrKind) -> Self {
        Self::Words(
            match kind {
                HrwrKind::Extended => "slump lasts 1 to 3 h",
                HrwrKind::Older => "slump lasts 30 to 60 min",
            }
            .into(),
        )
    }
}

impl From<AirTemperature> for Value {
    fn from(air: AirTemperature) -> Self {
        let told = |quantity, us| measure::plainly(quantity, us, 1);
        Self::Words(match air {
            AirTemperature::Steady(f) => told(Quantity::Temperature, f),
            AirTemperature::Daily {
                mean_f,
                swing_f,
                warmest_h,
            } => format!(
                "{} on average, {} more at {warmest_h} h and less at night",
                told(Quantity::Temperature, mean_f),
                told(Quantity::Warmth, swing_f)
            ),
        })
    }
}

impl From<AgeTable> for Value {
    fn from(table: AgeTable) -> Self {
        Self::Words(table.about().into())
    }
}

impl From<DryUpWith> for Value {
    fn from(with: DryUpWith) -> Self {
        Self::Words(
            match with {
                DryUpWith::CementAndFine => "cement and sand",
                DryUpWith::CementOnly => "cement alone",
            }
            .into(),
        )
    }
}
