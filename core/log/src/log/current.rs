//! Which entries hold: corrections win over what they correct, retractions hide, undone imports take with them what only
//! they brought.
//!
//! Everything here is a function of a *set* of entries, never of their order, so that two phones that hold the same facts
//! show the same log.
//!
//! Undoing an import must leave the log as though the import had not come. So what it brought not only ceases to hold, it
//! ceases to win as well: the entry that a correction of the import replaced holds again, or the older correction that
//! had lost to it. Were imports undone by what imports bring, an import could undo itself and there would be no answer.
//! Therefore it is settled first which imports stand, by what came on its own alone (a file takes back no import), and
//! then, by all that came with these or on its own, what holds.

use std::collections::HashMap;
use std::collections::hash_map::Entry as Slot;

use crate::log::entry::{Entry, EntryId, EntryKind};
use crate::time::Moment;

/// How an entry came into the log, over all the times it came.
///
/// Coming on its own, even once, outweighs every import. Of the imports that brought an entry the first and the last (by
/// identity, so by time) are remembered: undoing either leaves what the other brought, and importing again after an undo
/// brings back what was hidden. Undoing the first and the last of three overlapping imports hides what all three brought;
/// importing that file once more brings it back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Provenance {
    /// At least once on its own: said, received or merged.
    Alone,
    /// Only ever with imports.
    With {
        /// The first of them.
        first: EntryId,
        /// The last of them; the same as `first` if there was one.
        last: EntryId,
    },
}

impl Provenance {
    /// How this arrival came.
    pub(crate) fn of(entry: &Entry) -> Self {
        entry.import.map_or(Self::Alone, |import| Self::With { first: import, last: import })
    }

    /// Both arrivals together. Commutative, associative and idempotent.
    pub(crate) fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::With { first: a, last: b }, Self::With { first: c, last: d }) => {
                Self::With { first: a.min(c), last: b.max(d) }
            }
            _ => Self::Alone,
        }
    }
}

/// Of two entries with one identity, the one every log keeps: recorded first, and the rest only makes the order total.
pub(crate) fn precedes(one: &Entry, other: &Entry) -> bool {
    let key = |entry: &Entry| (entry.recorded, entry.at, entry.replaces);
    key(one)
        .cmp(&key(other))
        .then_with(|| one.source.cmp(&other.source))
        .then_with(|| one.what.canonical().cmp(&other.what.canonical()))
        .is_lt()
}

struct Fact {
    replaces: Option<EntryId>,
    retraction: bool,
    came: Provenance,
}

/// For each replaced entry the identity of the entry that replaces it.
#[derive(Default)]
struct Winners(HashMap<EntryId, EntryId>);

/// An entry that would replace another.
struct Claim {
    replaced: EntryId,
    came: Provenance,
    /// A retraction beats a correction; then the later one; then the greater identity.
    rank: (bool, Moment, EntryId),
}

impl Winners {
    fn among<'c>(claims: impl Iterator<Item = &'c Claim>) -> Self {
        let mut best: HashMap<EntryId, (bool, Moment, EntryId)> = HashMap::new();
        for Claim { replaced, rank, .. } in claims {
            best.entry(*replaced).and_modify(|held| *held = (*held).max(*rank)).or_insert(*rank);
        }
        Self(best.into_iter().map(|(replaced, (_, _, id))| (replaced, id)).collect())
    }

    /// The entry at the end of the chain that begins at `id`; `id` itself if nothing replaces it.
    fn tip(&self, id: EntryId) -> EntryId {
        let mut tip = id;
        for _ in 0..=self.0.len() {
            match self.0.get(&tip) {
                Some(next) => tip = *next,
                None => break,
            }
        }
        tip
    }
}

/// What holds among a set of entries.
pub(crate) struct Standing {
    facts: HashMap<EntryId, Fact>,
    /// Who replaces whom among all that stands.
    winners: Winners,
    /// The same among what came on its own: what decides which imports stand.
    deciding: Winners,
}

impl Standing {
    /// Merges entries with one identity, then weighs them all.
    ///
    /// Returns the entries, one for each identity, beside what holds among them.
    pub(crate) fn weigh(entries: Vec<Entry>) -> (Vec<Entry>, Self) {
        let mut places: HashMap<EntryId, usize> = HashMap::with_capacity(entries.len());
        let mut distinct: Vec<(Entry, Provenance)> = Vec::with_capacity(entries.len());
        for entry in entries {
            let came = Provenance::of(&entry);
            match places.entry(entry.id) {
                Slot::Vacant(place) => {
                    place.insert(distinct.len());
                    distinct.push((entry, came));
                }
                Slot::Occupied(place) => {
                    let (held, held_came) = &mut distinct[*place.get()];
                    *held_came = held_came.and(came);
                    if precedes(&entry, held) {
                        *held = entry;
                    }
                }
            }
        }
        Self::of_distinct(distinct)
    }

    /// As [`Standing::weigh`], of entries that have an identity each and how each came.
    pub(crate) fn of_distinct(distinct: Vec<(Entry, Provenance)>) -> (Vec<Entry>, Self) {
        let mut claims = Vec::new();
        let mut facts = HashMap::with_capacity(distinct.len());
        let mut entries = Vec::with_capacity(distinct.len());
        for (mut entry, came) in distinct {
            let retraction = entry.what == EntryKind::Retraction;
            if let Some(replaced) = entry.replaces {
                claims.push(Claim { replaced, came, rank: (retraction, entry.recorded, entry.id) });
            }
            facts.insert(entry.id, Fact { replaces: entry.replaces, retraction, came });
            entry.import = match came {
                Provenance::Alone => None,
                Provenance::With { first, .. } => Some(first),
            };
            entries.push(entry);
        }
        let deciding = Winners::among(claims.iter().filter(|claim| claim.came == Provenance::Alone));
        let mut standing = Self { facts, winners: Winners::default(), deciding };
        standing.winners = Winners::among(claims.iter().filter(|claim| standing.came_stands(claim.came)));
        (entries, standing)
    }

    /// Whether the entry holds: nothing replaces it, and it and all it replaces, back to a first entry, have won and stand.
    ///
    /// So what was said of an entry that came with an undone import falls with it.
    pub(crate) fn holds(&self, id: EntryId) -> bool {
        if self.is_replaced(id) || self.facts.get(&id).is_none_or(|fact| fact.retraction) {
            return false;
        }
        let mut id = id;
        // Ends a ring of entries that replace each other, which only a forged log can hold.
        for _ in 0..=self.facts.len() {
            let Some(fact) = self.facts.get(&id) else { return true };
            if !self.came_stands(fact.came) {
                return false;
            }
            let Some(replaced) = fact.replaces else { return true };
            if self.winners.0.get(&replaced) != Some(&id) {
                return false;
            }
            id = replaced;
        }
        false
    }

    /// The entry that this one goes back to, over all that it corrects or retracts; nothing where one of them, or it itself, came with
    /// imports that were all taken back.
    pub(crate) fn root(&self, id: EntryId) -> Option<EntryId> {
        let mut id = id;
        for _ in 0..=self.facts.len() {
            let Some(fact) = self.facts.get(&id) else { return Some(id) };
            if !self.came_stands(fact.came) {
                return None;
            }
            match fact.replaces {
                Some(replaced) => id = replaced,
                None => return Some(id),
            }
        }
        // A ring, which only a forged log can hold.
        Some(id)
    }

    /// Whether something that stands corrects or retracts the entry.
    pub(crate) fn is_replaced(&self, id: EntryId) -> bool {
        self.winners.0.contains_key(&id)
    }

    /// The entry at the end of the chain of winners that begins at `id`; `id` itself if nothing replaces it.
    pub(crate) fn tip(&self, id: EntryId) -> EntryId {
        self.winners.tip(id)
    }

    /// Whether an import has not been undone, or was but is restored.
    pub(crate) fn import_stands(&self, import: EntryId) -> bool {
        let tip = self.deciding.tip(import);
        // In a ring the tip is itself replaced.
        !self.deciding.0.contains_key(&tip) && !self.facts.get(&tip).is_some_and(|fact| fact.retraction)
    }

    /// Whether one of the ways an entry came has not been undone.
    pub(crate) fn came_stands(&self, came: Provenance) -> bool {
        match came {
            Provenance::Alone => true,
            Provenance::With { first, last } => self.import_stands(first) || self.import_stands(last),
        }
    }
}
