//! Compressive strength at 28 days from the water-cement ratio: the ACI 211.1 curves and Abrams' law.

/// ACI 211.1 Table 6.3.4(a), not air-entrained: w/c by mass and psi. 0.41 and 0.82 read; 0.48, 0.57, 0.68 from memory.
pub const ACI_PLAIN: [(f64, f64); 5] = [
    (0.41, 6000.0),
    (0.48, 5000.0),
    (0.57, 4000.0),
    (0.68, 3000.0),
    (0.82, 2000.0),
];

/// The same table, air-entrained. 0.40 and 0.74 read; 0.48 and 0.59 from memory.
pub const ACI_AIR_ENTRAINED: [(f64, f64); 4] = [
    (0.40, 5000.0),
    (0.48, 4000.0),
    (0.59, 3000.0),
    (0.74, 2000.0),
];

/// Abrams' law, S = A ÷ B^(w/c).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Abrams {
    /// A, psi.
    pub a_psi: f64,
    /// B, above 1.
    pub b: f64,
}

impl Abrams {
    /// Strength at this w/c.
    pub fn psi(self, wc: f64) -> f64 {
        self.a_psi * libm::exp(-libm::log(self.b) * wc)
    }
}

/// How strength follows from w/c.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum StrengthLaw {
    /// [`ACI_PLAIN`].
    AciPlain,
    /// [`ACI_AIR_ENTRAINED`].
    AciAirEntrained,
    /// Abrams' law with constants of one's own.
    Abrams(Abrams),
}

impl StrengthLaw {
    /// Strength at 28 days, psi. Between the points of a table ln psi goes straight over w/c, as Abrams' law has it; beyond
    /// them its end pieces go on.
    pub fn psi(self, wc: f64) -> f64 {
        match self {
            Self::AciPlain => between(&ACI_PLAIN, wc),
            Self::AciAirEntrained => between(&ACI_AIR_ENTRAINED, wc),
            Self::Abrams(law) => law.psi(wc),
        }
    }
}

fn between(table: &[(f64, f64)], wc: f64) -> f64 {
    law_of(table, |point| point.0 < wc).psi(wc)
}

/// Abrams' law through the two points between which a value lies; `before` holds for the points ahead of it.
fn law_of(table: &[(f64, f64)], before: impl Fn(&(f64, f64)) -> bool) -> Abrams {
    let next = table.partition_point(before).clamp(1, table.len() - 1);
    let ((x0, y0), (x1, y1)) = (table[next - 1], table[next]);
    let slope = libm::log(y0 / y1) / (x1 - x0);
    Abrams {
        a_psi: y0 * libm::exp(slope * x0),
        b: libm::exp(slope),
    }
}
