//! Who hears of events.

use super::Event;
use crate::units::Millis;

/// Hears what happens. A type parameter of the world, so that a run that needs no observer pays for none.
pub trait Observer {
    /// Whether it looks at the plan that comes with a promise: the beliefs of that plan are looked up for those only who do.
    const PLANS: bool = false;

    /// Something has happened at this moment.
    fn event(&mut self, at: Millis, event: &Event);
}

/// Hears nothing.
impl Observer for () {
    #[inline]
    fn event(&mut self, _: Millis, _: &Event) {}
}

/// Two observers of the same run.
impl<A: Observer, B: Observer> Observer for (A, B) {
    const PLANS: bool = A::PLANS || B::PLANS;

    #[inline(always)]
    fn event(&mut self, at: Millis, event: &Event) {
        self.0.event(at, event);
        self.1.event(at, event);
    }
}

impl<O: Observer> Observer for &mut O {
    const PLANS: bool = O::PLANS;

    #[inline(always)]
    fn event(&mut self, at: Millis, event: &Event) {
        (**self).event(at, event);
    }
}
