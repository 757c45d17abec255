//! The clocks of one driver, carried along from one change of status to the next.

mod lone_window;
mod surely;

use super::exceptions::Allowance;
use super::fit::Fit;
use super::left::{Drivable, Left, rest_of};
use super::rule_set::{BreakTrigger, RuleSet};
use super::status::DutyStatus;
use super::wall_clock::STEADY;
use crate::units::Millis;

/// The most carrier days that weekly hours look at.
pub(super) const MOST_DAYS: usize = 14;

/// The clocks of one driver under one rule book, which every call is given anew and which must stay the same. Of fixed size;
/// nothing is allocated. `tests/hours/clocks.rs` holds it against [`super::review`], which works from the whole log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Clocks {
    now: Millis,
    status: DutyStatus,
    /// When the rest that is running, or the last one, began.
    rest_from: Millis,
    /// No duty since `rest_from`. Duty of no length, such as a stage that takes no time, interrupts nothing.
    resting: bool,
    /// The rest that is running has already been counted as a full rest, and as a restart.
    rest_counted: bool,
    restart_counted: bool,
    /// First duty since the last full rest.
    shift: Option<Millis>,
    drove: Millis,
    worked: Millis,
    /// When the stretch that can become a break began.
    pause_from: Option<Millis>,
    drove_since_break: Millis,
    /// End of the last break or start of the shift.
    break_base: Millis,
    allowance: Allowance,
    /// The carrier day of `now`; on duty since the last restart by carrier day modulo [`MOST_DAYS`].
    day: i64,
    days: [Millis; MOST_DAYS],
    /// The sum over the days that the weekly hours of the rule book look at.
    in_cycle: Millis,
    /// In the carrier day of `now`, whatever rests lie in it.
    drove_today: Millis,
    worked_today: Millis,
    /// When the rest began that was the last restart.
    restart_began: Option<Millis>,
    /// The book is a window and nothing else: the short way, see [`lone_window`].
    lone_window: bool,
}

impl Clocks {
    /// A driver off duty at `at` who has rested since `rested_since`; `prior` is time on duty by carrier day before that. Only
    /// the last 14 days are looked at, and a day after `at` is not.
    pub fn new(
        rules: &RuleSet,
        at: Millis,
        rested_since: Millis,
        prior: impl IntoIterator<Item = (i64, Millis)>,
    ) -> Self {
        let began = rested_since.min(at);
        let today = rules.carrier_day(at);
        let mut clocks = Self {
            now: at,
            status: DutyStatus::OffDuty,
            rest_from: began,
            resting: true,
            rest_counted: false,
            restart_counted: false,
            shift: None,
            drove: Millis::ZERO,
            worked: Millis::ZERO,
            pause_from: rules.is_break(DutyStatus::OffDuty).then_some(began),
            drove_since_break: Millis::ZERO,
            break_base: at,
            allowance: Allowance::default(),
            day: today,
            days: [Millis::ZERO; MOST_DAYS],
            in_cycle: Millis::ZERO,
            drove_today: Millis::ZERO,
            worked_today: Millis::ZERO,
            restart_began: None,
            lone_window: rules.is_lone_window(),
        };
        for (day, worked) in prior {
            if day > today || day <= today - MOST_DAYS as i64 {
                continue;
            }
            clocks.days[slot(day)] += worked;
            if day == today {
                clocks.worked_today += worked;
            }
        }
        clocks.in_cycle = (0..cycle_days(rules))
            .map(|ago| clocks.days[slot(today - ago)])
            .sum();
        clocks.rest_on(rules, at);
        clocks
    }

    /// The moment up to which everything is known.
    pub fn now(&self) -> Millis {
        self.now
    }

    /// What the driver is doing.
    pub fn status(&self) -> DutyStatus {
        self.status
    }

    /// First duty since the last full rest.
    pub fn shift_start(&self) -> Option<Millis> {
        self.shift
    }

    /// When the rest began that was the last restart of the weekly hours.
    pub fn last_restart_began(&self) -> Option<Millis> {
        self.restart_began
    }

    /// The exceptions in use.
    pub fn allowance(&self) -> Allowance {
        self.allowance
    }

    /// Whether a driver who waits may by that fit in what would not have fitted at once: never where a window is all there is.
    #[inline]
    pub fn can_gain_by_waiting(&self) -> bool {
        !self.lone_window
    }

    /// Driven since the last break, or since the shift began.
    pub fn drove_since_break(&self) -> Millis {
        self.drove_since_break
    }

    /// When the last break was over, or the shift began.
    pub fn last_break_over(&self) -> Millis {
        self.break_base
    }

    /// When the pause that is running makes a break, or made one; none if there is no pause, or no break is asked for.
    pub fn pause_is_break_at(&self, rules: &RuleSet) -> Option<Millis> {
        let rule = rules.break_rule.as_ref()?;
        let from = self.pause_from.filter(|_| rules.is_break(self.status))?;
        Some(from + rule.length)
    }

    /// Takes down that the status changes at `at`, not before [`now`](Self::now).
    pub fn change(&mut self, rules: &RuleSet, at: Millis, status: DutyStatus) {
        self.advance(rules, at);
        if !rules.is_duty(status) && !self.resting {
            self.rest_from = self.now;
            self.resting = true;
            self.rest_counted = false;
            self.restart_counted = false;
            if rules.reset_rest == Millis::ZERO {
                self.rest_on(rules, self.now);
            }
        }
        if rules.is_break(status) {
            self.pause_from = self.pause_from.or(Some(self.now));
        }
        self.status = status;
    }

    /// Takes down that exceptions are used from `at` on, until the next full rest or the next call.
    pub fn allow(&mut self, rules: &RuleSet, at: Millis, allowance: Allowance) {
        self.advance(rules, at);
        self.allowance = allowance;
    }

    /// Goes on in the same status until `to`; a moment that has passed changes nothing.
    pub fn advance(&mut self, rules: &RuleSet, to: Millis) {
        if self.lone_window {
            self.advance_lone(rules, to);
            return;
        }
        while self.now < to {
            let day_ends = rules.day_begins(self.day + 1);
            let end = day_ends.min(to);
            self.go_on(rules, end);
            if end == day_ends {
                self.day += 1;
                self.in_cycle -= self.days[slot(self.day - cycle_days(rules))];
                self.days[slot(self.day)] = Millis::ZERO;
                self.drove_today = Millis::ZERO;
                self.worked_today = Millis::ZERO;
            }
        }
    }

    /// Goes on within one carrier day.
    fn go_on(&mut self, rules: &RuleSet, end: Millis) {
        let span = end - self.now;
        if !rules.is_break(self.status) {
            self.pause_from = None;
        }
        if rules.is_duty(self.status) {
            self.resting = false;
            if self.shift.is_none() {
                self.shift = Some(self.now);
                self.break_base = self.now;
            }
            self.worked += span;
            self.worked_today += span;
            self.days[slot(self.day)] += span;
            self.in_cycle += span;
            if self.status == DutyStatus::Driving {
                self.drove += span;
                self.drove_today += span;
                self.drove_since_break += span;
            }
        } else {
            self.rest_on(rules, end);
        }
        if let (Some(rule), Some(from)) = (&rules.break_rule, self.pause_from)
            && end - from >= rule.length
        {
            self.drove_since_break = Millis::ZERO;
            self.break_base = end;
        }
        self.now = end;
    }

    fn rest_on(&mut self, rules: &RuleSet, end: Millis) {
        if !self.rest_counted && end - self.rest_from >= rules.reset_rest {
            self.rest_counted = true;
            self.shift = None;
            self.drove = Millis::ZERO;
            self.worked = Millis::ZERO;
            self.drove_since_break = Millis::ZERO;
            self.allowance = Allowance::default();
        }
        let Some(restart) = rules.restart().filter(|_| !self.restart_counted) else {
            return;
        };
        if end >= restart.complete_at(&STEADY, self.rest_from, self.restart_began) {
            self.restart_counted = true;
            self.restart_began = Some(self.rest_from);
            self.days = [Millis::ZERO; MOST_DAYS];
            self.in_cycle = Millis::ZERO;
        }
    }

    /// What is left on every clock now.
    pub fn left(&self, rules: &RuleSet) -> Left {
        let since_shift = self.shift.map_or(Millis::ZERO, |shift| self.now - shift);
        let of_day_too = |limit: Millis, in_shift: Millis, today: Millis| {
            let used = if rules.limits_hold_per_day {
                in_shift.max(today)
            } else {
                in_shift
            };
            rest_of(limit, used)
        };
        Left {
            driving: rules
                .driving_limit(&self.allowance)
                .map(|limit| of_day_too(limit, self.drove, self.drove_today)),
            window: rules
                .window_limit(&self.allowance)
                .map(|limit| rest_of(limit, since_shift)),
            on_duty: rules
                .on_duty
                .as_ref()
                .map(|limit| of_day_too(limit.length, self.worked, self.worked_today)),
            break_in: self.break_left(rules),
            cycle: rules
                .cycle
                .as_ref()
                .map(|cycle| rest_of(cycle.limit, self.in_cycle)),
        }
    }

    fn break_left(&self, rules: &RuleSet) -> Option<Millis> {
        let rule = rules.break_rule.as_ref()?;
        let excused = self
            .allowance
            .break_excused_until
            .is_some_and(|until| self.now < until);
        if excused || self.short_haul_ends(rules) > self.now {
            return None;
        }
        let used = match rule.trigger {
            BreakTrigger::DrivingTime => self.drove_since_break,
            BreakTrigger::ElapsedTime if self.shift.is_some() => self.now - self.break_base,
            BreakTrigger::ElapsedTime => Millis::ZERO,
        };
        Some(rest_of(rule.after, used))
    }

    /// When the short-haul exception is lost if the driver is not released; long past if it is not in use.
    fn short_haul_ends(&self, rules: &RuleSet) -> Millis {
        match rules.short_haul_release(&self.allowance) {
            Some(within) => self.shift.unwrap_or(self.now) + within,
            None => -Millis::NEVER,
        }
    }

    /// How long the driver may drive on from now without a pause, and which clock ends it.
    #[inline]
    pub fn drivable(&self, rules: &RuleSet) -> Drivable {
        if self.lone_window {
            return self.drivable_lone(rules, self.now);
        }
        self.drive_on(rules)
    }

    /// The same if the driver goes on as now until `at` and drives from then on; a moment that has passed is now.
    #[inline]
    pub fn drivable_at(&self, rules: &RuleSet, at: Millis) -> Drivable {
        let at = at.max(self.now);
        if self.lone_window {
            return self.drivable_lone(rules, at);
        }
        let mut then = *self;
        then.advance(rules, at);
        then.drive_on(rules)
    }

    fn drive_on(&self, rules: &RuleSet) -> Drivable {
        if self.shift.is_some()
            && let Some(drivable) = self.drive_on_from_now(rules)
        {
            return drivable;
        }
        let mut driving = *self;
        driving.change(rules, self.now, DutyStatus::Driving);
        // Time for the shift to begin, so that what counts from its start is known.
        driving.shift = driving.shift.or(Some(self.now));
        if self.shift.is_none() {
            driving.break_base = self.now;
        }
        // Weekly hours can grow again at a day's start; after as many days as they look at they cannot any more.
        for _ in 0..MOST_DAYS + 4 {
            if let Some(drivable) = driving.drive_on_from_now(rules) {
                return drivable;
            }
            driving.advance(rules, driving.next_change(rules));
        }
        Drivable::ALWAYS
    }

    /// How long a driver whose shift has begun may drive on, if a clock ends it before anything changes.
    fn drive_on_from_now(&self, rules: &RuleSet) -> Option<Drivable> {
        let (clock, left) = self.left(rules).least()?;
        let ends = left == Millis::ZERO || self.now + left < self.next_change(rules);
        ends.then(|| Drivable {
            until: self.now + left,
            by: Some(clock),
        })
    }

    /// When the next clock may get more, or one more begins to count, while the driver goes on: [`Millis::NEVER`] if none does.
    fn next_change(&self, rules: &RuleSet) -> Millis {
        let excuse = self.allowance.break_excused_until;
        let changes = [
            rules.day_begins(self.day + 1),
            excuse.unwrap_or(-Millis::NEVER),
            self.short_haul_ends(rules),
        ];
        let later = changes.into_iter().filter(|at| *at > self.now);
        later.min().unwrap_or(Millis::NEVER)
    }

    /// Whether a plan of statuses and their lengths, begun at `from` (not before [`now`](Self::now)), fits under every clock,
    /// and which binds. Until `from` the driver goes on as now.
    pub fn fits(&self, rules: &RuleSet, from: Millis, plan: &[(DutyStatus, Millis)]) -> Fit {
        self.follow(rules, from, plan, false).0
    }

    /// These clocks without the once-a-week longer window, if it is of no use to a driver who is released at `released`: it takes
    /// coming home and being released within it (49 CFR 395.1(o)(2)).
    pub fn as_released_at(&self, rules: &RuleSet, released: Millis) -> Self {
        let mut clocks = *self;
        if let (Some(long), Some(shift)) = (rules.long_day_window, self.shift)
            && released > shift + long
        {
            clocks.allowance.long_day = false;
        }
        clocks
    }

    /// The same as [`fits`](Self::fits), and until when the driver may drive on after the plan, if that is asked for.
    #[inline]
    pub fn follow(
        &self,
        rules: &RuleSet,
        from: Millis,
        plan: &[(DutyStatus, Millis)],
        drives_on: bool,
    ) -> (Fit, Drivable) {
        let all_duty = || plan.iter().all(|(status, _)| rules.is_duty(*status));
        if self.lone_window && from >= self.now && all_duty() {
            return self.follow_lone(rules, from, plan);
        }
        let mut then = *self;
        let mut fit = Fit::UNLIMITED;
        let mut at = from;
        for (status, length) in plan {
            if *status == DutyStatus::Driving && *length == Millis::ZERO {
                continue; // no leg, and what is duty of no length changes nothing
            }
            then.change(rules, at, *status);
            if *status == DutyStatus::Driving {
                fit.add_leg(then.drivable(rules), at + *length);
            }
            at += *length;
        }
        then.advance(rules, at);
        if rules.short_haul_release(&then.allowance).is_some() {
            fit.short_haul_slack = Some(then.short_haul_ends(rules) - at);
        }
        let on = if drives_on {
            then.drivable(rules)
        } else {
            Drivable::ALWAYS
        };
        (fit, on)
    }

    /// The earliest moment at which the driver may drive if off duty from now on; now if driving is not barred.
    pub fn may_drive_from(&self, rules: &RuleSet) -> Millis {
        if !self.left(rules).bars() {
            return self.now;
        }
        let mut off = *self;
        off.change(rules, self.now, DutyStatus::OffDuty);
        for _ in 0..2 * MOST_DAYS + 9 {
            if !off.left(rules).bars() {
                return off.now;
            }
            let restart = rules.restart().map_or(Millis::NEVER, |restart| {
                restart.complete_at(&STEADY, off.rest_from, off.restart_began)
            });
            let break_rule = rules.break_rule.as_ref();
            let pause = break_rule.map_or(Millis::NEVER, |rule| {
                off.pause_from
                    .map_or(Millis::NEVER, |from| from + rule.length)
            });
            let changes = [
                off.rest_from + rules.reset_rest,
                pause,
                restart,
                off.allowance.break_excused_until.unwrap_or(Millis::NEVER),
                rules.day_begins(off.day + 1),
            ];
            let later = changes.into_iter().filter(|at| *at > off.now);
            let Some(next) = later.min() else { break };
            off.advance(rules, next);
        }
        Millis::NEVER
    }
}

fn slot(day: i64) -> usize {
    day.rem_euclid(MOST_DAYS as i64) as usize
}

/// The days that weekly hours look at; all that are kept where there are none.
fn cycle_days(rules: &RuleSet) -> i64 {
    let days = rules.cycle.as_ref().map(|cycle| usize::from(cycle.days));
    days.unwrap_or(MOST_DAYS).min(MOST_DAYS) as i64
}
