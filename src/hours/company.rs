//! What a company asks beyond the law. Breaking it is no violation, and it never forbids the drive home.

use serde::{Deserialize, Serialize};

use super::clocks::{Clocks, Fit};
use super::rule_set::{RuleSet, as_minutes};
use super::status::DutyStatus;
use crate::units::Millis;

/// Limits above the law, for promising loads. All times are elapsed since the driver reported.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Company {
    /// No load begins later than this.
    #[serde(with = "as_minutes::optional")]
    pub last_load_within: Option<Millis>,
    /// The driver is to be done by then.
    #[serde(with = "as_minutes::optional")]
    pub finish_within: Option<Millis>,
    /// So many carrier days in a row at most.
    pub days_in_row: Option<u32>,
}

/// Which company limit refuses a load.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CompanyLimit {
    /// The load would begin too late.
    LastLoad,
    /// The driver would be done too late.
    Finish,
    /// The driver would work too many days in a row.
    DaysInRow,
}

/// Whether a load can go under law and company.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LoadFit {
    /// Under the law.
    pub law: Fit,
    /// The company limit that refuses it, if one does.
    pub company: Option<CompanyLimit>,
}

impl LoadFit {
    /// Whether the load can go.
    pub fn fits(&self) -> bool {
        self.law.fits() && self.company.is_none()
    }
}

impl Company {
    /// Whether a load that begins at `from` and goes on as `plan` fits under the law and under these limits. `plan` ends with
    /// the driver's release. Allocates nothing.
    pub fn fits(
        &self,
        rules: &RuleSet,
        clocks: &Clocks,
        from: Millis,
        plan: &[(DutyStatus, Millis)],
    ) -> LoadFit {
        let mut then = *clocks;
        then.advance(rules, from);
        let since_report = from - then.shift_start().unwrap_or(from);
        let end: Millis = plan.iter().map(|(_, length)| *length).sum();
        let company = if self
            .days_in_row
            .is_some_and(|most| then.days_in_row() > most)
        {
            Some(CompanyLimit::DaysInRow)
        } else if self
            .last_load_within
            .is_some_and(|most| since_report > most)
        {
            Some(CompanyLimit::LastLoad)
        } else if self
            .finish_within
            .is_some_and(|most| since_report + end > most)
        {
            Some(CompanyLimit::Finish)
        } else {
            None
        };
        LoadFit {
            law: then.fits(rules, from, plan),
            company,
        }
    }
}
