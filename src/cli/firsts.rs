//! The first of each kind, among many.

use std::collections::HashMap;
use std::collections::hash_map::Entry;
use std::hash::{DefaultHasher, Hash, Hasher};

/// Records that are looked up by what they are the first of, without keeping that: its hash is kept, and whether it is the
/// same is asked of the record. That takes 20 to 40 bytes beside the record.
pub struct Firsts<R> {
    /// For each hash, or the next ones where several things have the same, the place of a record.
    table: HashMap<u64, u32>,
    records: Vec<R>,
}

impl<R> Default for Firsts<R> {
    fn default() -> Firsts<R> {
        Firsts { table: HashMap::new(), records: Vec::new() }
    }
}

impl<R> Firsts<R> {
    /// The record of this `kind` that was added, if one was; `is` tells whether a record is of the kind.
    pub fn find(&self, kind: &impl Hash, is: impl Fn(&R) -> bool) -> Option<&R> {
        let mut hash = hash(kind);
        loop {
            let record = self.records.get(*self.table.get(&hash)? as usize)?;
            if is(record) {
                return Some(record);
            }
            hash = hash.wrapping_add(1);
        }
    }

    /// Adds the first record of this `kind`. What comes behind the four thousand millionth is not kept.
    pub fn add(&mut self, kind: &impl Hash, record: R) {
        let Ok(place) = u32::try_from(self.records.len()) else { return };
        let mut hash = hash(kind);
        loop {
            if let Entry::Vacant(vacant) = self.table.entry(hash) {
                vacant.insert(place);
                self.records.push(record);
                return;
            }
            hash = hash.wrapping_add(1);
        }
    }
}

fn hash(kind: &impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    kind.hash(&mut hasher);
    hasher.finish()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Nearly all have one hash.
    struct Alike(u32);

    impl Hash for Alike {
        fn hash<H: Hasher>(&self, state: &mut H) {
            (self.0 % 3).hash(state);
        }
    }

    #[test]
    fn equal_hashes_are_no_equal_kinds() {
        let mut firsts = Firsts::default();
        for number in 0..50 {
            assert!(firsts.find(&Alike(number), |it| *it == number).is_none());
            firsts.add(&Alike(number), number);
        }
        for number in 0..50 {
            assert_eq!(firsts.find(&Alike(number), |it| *it == number), Some(&number));
        }
    }
}
