//! Lists of numbers, kept one behind the other.

/// Lists that are counted from 0.
#[derive(Default)]
pub(super) struct Lists {
    all: Vec<u16>,
    /// Where each list ends.
    ends: Vec<u32>,
}

impl Lists {
    /// With room for so many lists, and for so many numbers in all.
    pub(super) fn with_capacity(lists: usize, numbers: usize) -> Lists {
        Lists { all: Vec::with_capacity(numbers), ends: Vec::with_capacity(lists) }
    }

    /// Adds a list with what `fill` adds to its end.
    pub(super) fn push(&mut self, fill: impl FnOnce(&mut Vec<u16>)) {
        fill(&mut self.all);
        self.ends.push(u32::try_from(self.all.len()).unwrap_or(u32::MAX));
    }

    pub(super) fn at(&self, list: usize) -> &[u16] {
        let begin = list.checked_sub(1).map_or(0, |before| self.ends[before]);
        &self.all[begin as usize..self.ends[list] as usize]
    }

    pub(super) fn iter(&self) -> impl Iterator<Item = &[u16]> + Clone {
        let mut begin = 0;
        self.ends.iter().map(move |&end| {
            let list = &self.all[begin..end as usize];
            begin = end as usize;
            list
        })
    }

    /// For each number below `count`, what it is paired with, in the order of the pairs.
    pub(super) fn of_pairs(count: usize, pairs: impl Iterator<Item = (u16, u16)> + Clone) -> Lists {
        let mut ends = vec![0; count];
        pairs.clone().for_each(|(number, _)| ends[usize::from(number)] += 1);
        let mut so_far = 0;
        for end in &mut ends {
            // At first where the list begins, and then one further with each that is put there.
            (*end, so_far) = (so_far, so_far + *end);
        }
        let mut all = vec![0; so_far as usize];
        pairs.for_each(|(number, with)| {
            let end = &mut ends[usize::from(number)];
            all[*end as usize] = with;
            *end += 1;
        });
        Lists { all, ends }
    }
}

#[cfg(test)]
mod tests {
    use super::Lists;

    #[test]
    fn lists_are_those_that_were_put_in() {
        let mut lists = Lists::default();
        lists.push(|all| all.extend([3, 0]));
        lists.push(|_| {});
        lists.push(|all| all.push(2));
        assert_eq!(lists.iter().collect::<Vec<_>>(), [&[3, 0][..], &[], &[2]]);
        assert_eq!(lists.at(2), [2]);
        let pairs = [(2, 7), (0, 5), (2, 4), (3, 1)];
        let paired = Lists::of_pairs(5, pairs.iter().copied());
        assert_eq!(paired.iter().collect::<Vec<_>>(), [&[5][..], &[], &[7, 4], &[1], &[]]);
    }
}
