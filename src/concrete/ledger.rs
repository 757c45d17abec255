//! Where the materials of a load went, by component.

use super::materials::Masses;

/// The masses of one load since batching, lb.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct MassLedger {
    /// Left in the drum of the load before: returned concrete under this one.
    pub under: Masses,
    /// Put in at the bay.
    pub batched: Masses,
    /// Water and HRWR added afterwards.
    pub added: Masses,
    /// Cement and fine aggregate of dry-ups.
    pub dry_up: Masses,
    /// Placed on site.
    pub placed: Masses,
    /// Dumped: parts of a load, or all of it.
    pub dumped: Masses,
}

impl MassLedger {
    /// What is in the drum.
    pub fn in_drum(&self) -> Masses {
        self.under + self.batched + self.added + self.dry_up - self.placed - self.dumped
    }

    /// All that came in, lb.
    pub fn came_in_lb(&self) -> f64 {
        self.under.total_lb()
            + self.batched.total_lb()
            + self.added.total_lb()
            + self.dry_up.total_lb()
    }

    /// Whether nothing came from nowhere: what left is made of what came in, component by component, to a part in 10⁹.
    pub fn balances(&self) -> bool {
        let slack = 1e-9 * self.came_in_lb().max(1.0);
        self.in_drum().parts().iter().all(|left| *left >= -slack)
    }
}
