//! The meaning of one section.

use super::{Entry, Facts, Fault};

/// What a section means.
#[derive(Clone, Default, Debug)]
pub struct Meaning {
    /// What each item of the section means, in the same order.
    pub entries: Vec<Entry>,
    /// What has no meaning as it stands, in order of place.
    pub faults: Vec<Fault>,
    /// What holds by default from here on, where the section (a preface or a part) says something.
    pub defaults: Option<Facts>,
}
