//! Parts of a list that is sorted by time.

use crate::time::Moment;

/// What lies in (`after`, `until`].
pub(crate) fn within<T>(all: &[T], at: impl Fn(&T) -> Moment, after: Moment, until: Moment) -> &[T] {
    let first = all.partition_point(|one| !at(one).is_after(after));
    let end = all.partition_point(|one| !at(one).is_after(until));
    all.get(first..end).unwrap_or_default()
}

/// What is no later than now.
pub(crate) fn known<T>(all: &[T], now: Moment, at: impl Fn(&T) -> Moment) -> &[T] {
    &all[..all.partition_point(|one| !at(one).is_after(now))]
}

/// The newest that is known and at most `within_minutes` old, with its age.
pub(crate) fn newest<T>(all: &[T], now: Moment, within_minutes: f64, at: impl Fn(&T) -> Moment) -> Option<(&T, f64)> {
    let newest = known(all, now, &at).last()?;
    let age = now.minutes_since(at(newest));
    (age <= within_minutes).then_some((newest, age))
}
