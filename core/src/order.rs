//! Putting short lists in order.
//!
//! The standard library's sort is compiled anew for every type and every order, at 4 KB each in a library for a phone. Lists
//! of at most thousands share one here; what may be a whole log's readings has its own.

use std::cmp::Ordering;

/// As [`slice::sort_by`], and as stable; a little slower.
pub fn put_in_order<T>(items: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    let mut places = places_in_order(items.len(), &|one, other| compare(&items[one], &items[other]));
    for to in 0..items.len() {
        let mut from = places[to];
        // What stood at a place that is filled already went to where its new item came from.
        while from < to {
            from = places[from];
        }
        places[to] = from;
        items.swap(to, from);
    }
}

/// As [`slice::sort_by_key`].
pub fn put_in_order_by<T, K: Ord>(items: &mut [T], key: impl Fn(&T) -> K) {
    put_in_order(items, |one, other| key(one).cmp(&key(other)));
}

/// The places `0..length` in the order of what stands at them.
pub fn places_in_order(length: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut places: Vec<usize> = (0..length).collect();
    places.sort_by(|one, other| compare(*one, *other));
    places
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        // Source: the standard library's stable sort.
        #[test]
        fn as_the_standard_sort(items in prop::collection::vec((0_u8..8, any::<u16>()), 0..200)) {
            let (mut ours, mut theirs) = (items.clone(), items);
            put_in_order_by(&mut ours, |one| one.0);
            theirs.sort_by_key(|one| one.0);
            prop_assert_eq!(&ours, &theirs);
            put_in_order(&mut ours, |one, other| other.1.cmp(&one.1));
            theirs.sort_by_key(|one| std::cmp::Reverse(one.1));
            prop_assert_eq!(ours, theirs);
        }
    }
}
