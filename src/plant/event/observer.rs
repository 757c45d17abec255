//! Who hears of events.

use super::Event;
use crate::units::Millis;

/// Hears what happens. A type parameter of the world, so that a run that needs no observer pays for none.
pub trait Observer {
    /// Whether it looks at the plan that comes with a promise: the beliefs of that plan are looked up for those only who do.
    const PLANS: bool = false;

    /// Whether it hears of every candidate that is refused. Else those that the rule does not even look at, since they stand at
    /// another plant, are told together: among a thousand trucks nearly all.
    const EACH_REFUSAL: bool = true;

    /// Something has happened at this moment.
    fn event(&mut self, at: Millis, event: &Event);
}

/// Hears nothing.
impl Observer for () {
    const EACH_REFUSAL: bool = false;

    #[inline]
    fn event(&mut self, _: Millis, _: &Event) {}
}

/// Two observers of the same run.
impl<A: Observer, B: Observer> Observer for (A, B) {
    const PLANS: bool = A::PLANS || B::PLANS;
    const EACH_REFUSAL: bool = A::EACH_REFUSAL || B::EACH_REFUSAL;

    #[inline(always)]
    fn event(&mut self, at: Millis, event: &Event) {
        self.0.event(at, event);
        self.1.event(at, event);
    }
}

impl<O: Observer> Observer for &mut O {
    const PLANS: bool = O::PLANS;
    const EACH_REFUSAL: bool = O::EACH_REFUSAL;

    #[inline(always)]
    fn event(&mut self, at: Millis, event: &Event) {
        (**self).event(at, event);
    }
}
