//! Compressive strength at 28 days from the water-cement ratio: the ACI 211.1 curves and Abrams' law.

/// psi in one MPa.
pub const PSI_PER_MPA: f64 = 145.037_738;

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
    /// Fitted to [`ACI_PLAIN`] (least squares of ln psi on w/c).
    pub const FROM_ACI_PLAIN: Self = Self {
        a_psi: 18_053.92,
        b: 14.363_9,
    };
    /// Fitted to the 61 plain mixes at 28 days (no slag, ash or superplasticizer) of the open data of I-C. Yeh, Cement and
    /// Concrete Research 28(12), 1998: 132.73 MPa and 13.412.
    pub const FROM_PLAIN_MIXES: Self = Self {
        a_psi: 132.73 * PSI_PER_MPA,
        b: 13.412,
    };

    /// Least squares of ln psi on w/c over (w/c, psi). None: fewer than two different w/c, or a strength of 0 or less.
    pub fn fit(points: &[(f64, f64)]) -> Option<Self> {
        let n = points.len() as f64;
        let (mut x, mut y) = (0.0, 0.0);
        for (wc, psi) in points {
            x += wc / n;
            y += libm::log(*psi) / n;
        }
        let (mut xx, mut xy) = (0.0, 0.0);
        for (wc, psi) in points {
            xx += (wc - x) * (wc - x);
            xy += (wc - x) * (libm::log(*psi) - y);
        }
        let slope = xy / xx;
        (slope.is_finite() && y.is_finite()).then(|| Self {
            a_psi: libm::exp(y - slope * x),
            b: libm::exp(-slope),
        })
    }

    /// Strength at this w/c.
    pub fn psi(self, wc: f64) -> f64 {
        self.a_psi * libm::exp(-libm::log(self.b) * wc)
    }

    /// The w/c that gives this strength.
    pub fn wc(self, psi: f64) -> f64 {
        libm::log(self.a_psi / psi) / libm::log(self.b)
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

    /// The w/c that gives this strength (more than 0 psi): the inverse of [`StrengthLaw::psi`].
    pub fn wc(self, psi: f64) -> f64 {
        match self {
            Self::AciPlain => back(&ACI_PLAIN, psi),
            Self::AciAirEntrained => back(&ACI_AIR_ENTRAINED, psi),
            Self::Abrams(law) => law.wc(psi),
        }
    }

    /// Share of the strength that is left when w/c goes from one value to another: 0.9 where a tenth is lost.
    pub fn ratio(self, from_wc: f64, to_wc: f64) -> f64 {
        self.psi(to_wc) / self.psi(from_wc)
    }
}

fn between(table: &[(f64, f64)], wc: f64) -> f64 {
    law_of(table, |point| point.0 < wc).psi(wc)
}

fn back(table: &[(f64, f64)], psi: f64) -> f64 {
    law_of(table, |point| point.1 > psi).wc(psi)
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
