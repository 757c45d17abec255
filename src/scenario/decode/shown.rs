//! What an answer shows of a value that a scenario writes where nothing holds otherwise.

use super::super::defaults::Value;
use super::Spanned;
use crate::concrete::AxleLayout;
use crate::engine::Spread;
use crate::scenario::{Breakdowns, Class, History, Need, Outages};
use crate::units::Millis;

/// What is noted of a value that is written where nothing holds otherwise.
pub trait Shown {
    /// As an answer shows it.
    fn shown(&self) -> Value {
        Value::Written
    }
}

impl Shown for f64 {
    fn shown(&self) -> Value {
        Value::Number(*self)
    }
}

impl Shown for u32 {
    fn shown(&self) -> Value {
        Value::Number(f64::from(*self))
    }
}

impl Shown for Spread {
    fn shown(&self) -> Value {
        Value::Spread(self.clone())
    }
}

impl<T> Shown for Vec<T> {}
impl Shown for Outages {}
impl Shown for Breakdowns {}
impl Shown for AxleLayout {}
impl Shown for Need {}
impl Shown for History {}
impl Shown for Millis {}
impl Shown for Class {}
impl<T> Shown for Spanned<T> {}
