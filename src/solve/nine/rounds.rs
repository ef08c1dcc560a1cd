//! The plain conclusions, drawn for all digits at once, in rounds until nothing changes.
//!
//! In a band a digit needs one of six permutations, each of which gives every row a box of its own; a place in none
//! that is possible goes. In a stack it likewise needs a permutation that gives every column a band. So whatever is
//! locked where a box crosses a line goes from the rest of both, and a digit that has one place in a row goes from the
//! place's column and box. What remains to be seen is a cell with one candidate, and a digit with one place in a row.

/// Defines `settle` for the `Lanes` in scope. The attribute lets its functions use them: no generic function could.
macro_rules! rounds {
    ($attribute:meta) => {
        use super::places::{BAND, CARRY, Places, ROW, ROWS};

        /// Draws every plain conclusion. Tells whether the position can still have a solution: with one candidate in
        /// each cell it then is one.
        #[$attribute]
        pub(super) fn settle(places: &mut Places) -> bool {
            let mut here = [Lanes::of(places[0]), Lanes::of(places[1]), Lanes::of(places[2])];
            loop {
                let before = here;
                let (once_0, twice_0) = here[0].once_and_twice();
                let (once_1, twice_1) = here[1].once_and_twice();
                let (once_2, twice_2) = here[2].once_and_twice();
                if !once_0.and(once_1).and(once_2).xor(Lanes::all(BAND)).is_empty() {
                    return false;
                }
                let sole = [
                    here[0].and(once_0.less(twice_0)),
                    here[1].and(once_1.less(twice_1)),
                    here[2].and(once_2.less(twice_2)),
                ];
                here = [fill(here[0], sole[0]), fill(here[1], sole[1]), fill(here[2], sole[2])];
                here = columns(rows(here));
                let lone = [lone(here[0]), lone(here[1]), lone(here[2])];
                here = [empty(here[0], lone[0]), empty(here[1], lone[1]), empty(here[2], lone[2])];
                if same(here, before) {
                    *places = [here[0].places(), here[1].places(), here[2].places()];
                    // A cell that holds two digits, a row that holds one twice, a band that lacks one.
                    return same(lone, sole) && places.as_flattened().iter().all(|&own| own != 0);
                }
            }
        }

        #[$attribute]
        fn same(one: [Lanes; 3], other: [Lanes; 3]) -> bool {
            one[0].xor(other[0]).or(one[1].xor(other[1])).or(one[2].xor(other[2])).is_empty()
        }

        /// Strikes a digit from the rows that hold it, but for the cells that do.
        #[$attribute]
        fn fill(here: Lanes, sole: Lanes) -> Lanes {
            let held = sole.plus(Lanes::all(BAND)).and(Lanes::all(CARRY));
            here.less(held.minus(held.down::<9>())).or(sole)
        }

        /// The places that are the only ones of their digit in their row.
        #[$attribute]
        fn lone(here: Lanes) -> Lanes {
            let beyond_one = here.and(here.or(Lanes::all(CARRY)).minus(Lanes::all(ROWS)));
            let one = Lanes::all(CARRY).less(beyond_one.plus(Lanes::all(BAND)));
            here.and(one.minus(one.down::<9>()))
        }

        /// Strikes the other digits from the cells that one must have.
        #[$attribute]
        fn empty(here: Lanes, lone: Lanes) -> Lanes {
            here.less(lone.once_and_twice().0).or(lone)
        }

        /// Keeps what some permutation of the boxes of a band needs. Three cells of a row in a box are one bit, and the
        /// three bands stand side by side.
        #[$attribute]
        fn rows(here: [Lanes; 3]) -> [Lanes; 3] {
            let left = Lanes::all(0o111 * ROWS);
            let [a, b, c] = here;
            let a = a.or(a.down::<1>()).or(a.down::<2>()).and(left);
            let b = b.up::<1>().or(b).or(b.down::<1>()).and(Lanes::all(0o222 * ROWS));
            let c = c.up::<2>().or(c.up::<1>()).or(c).and(Lanes::all(0o444 * ROWS));
            let any = a.or(b).or(c);
            let next =
                any.up::<3>().and(Lanes::all(0o770 * ROWS)).or(any.down::<6>().and(Lanes::all(0o007 * ROWS)));
            let last =
                any.up::<6>().and(Lanes::all(0o700 * ROWS)).or(any.down::<3>().and(Lanes::all(0o077 * ROWS)));
            let kept = permuted(any, next, last);
            let a = kept.and(left);
            let b = kept.down::<1>().and(left);
            let c = kept.down::<2>().and(left);
            [
                here[0].and(a.up::<3>().minus(a)),
                here[1].and(b.up::<3>().minus(b)),
                here[2].and(c.up::<3>().minus(c)),
            ]
        }

        /// Keeps what some permutation of the columns of a stack needs. Three cells of a column in a band are one bit,
        /// and the three bands stand below each other.
        #[$attribute]
        fn columns(here: [Lanes; 3]) -> [Lanes; 3] {
            let [a, b, c] = here;
            let a = a.or(a.down::<10>()).or(a.down::<20>()).and(Lanes::all(ROW));
            let b = b.up::<10>().or(b).or(b.down::<10>()).and(Lanes::all(ROW << 10));
            let c = c.up::<20>().or(c.up::<10>()).or(c).and(Lanes::all(ROW << 20));
            let any = a.or(b).or(c);
            let next =
                any.up::<1>().and(Lanes::all(0o666 * ROWS)).or(any.down::<2>().and(Lanes::all(0o111 * ROWS)));
            let last =
                any.up::<2>().and(Lanes::all(0o444 * ROWS)).or(any.down::<1>().and(Lanes::all(0o333 * ROWS)));
            let kept = permuted(any, next, last);
            let a = kept.and(Lanes::all(ROW));
            let b = kept.and(Lanes::all(ROW << 10));
            let c = kept.down::<20>();
            [
                here[0].and(a.or(a.up::<10>()).or(a.up::<20>())),
                here[1].and(b.up::<10>().or(b).or(b.down::<10>())),
                here[2].and(c.or(c.up::<10>()).or(c.up::<20>())),
            ]
        }

        /// Of bits in three rows, those that some permutation has: one a row, each in a place of its own. `next` and
        /// `last` are the same bits with the places passed on by one and by two.
        #[$attribute]
        fn permuted(any: Lanes, next: Lanes, last: Lanes) -> Lanes {
            let falling = one_down(next).and(two_down(last));
            let rising = one_down(last).and(two_down(next));
            any.and(falling.or(rising))
        }

        /// The rows moved down by one, the last to the top.
        #[$attribute]
        fn one_down(rows: Lanes) -> Lanes {
            rows.up::<10>().or(rows.down::<20>())
        }

        /// The rows moved down by two, which is up by one.
        #[$attribute]
        fn two_down(rows: Lanes) -> Lanes {
            rows.up::<20>().or(rows.down::<10>())
        }
    };
}
pub(super) use rounds;
