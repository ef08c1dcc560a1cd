//! `[check]`: what is reported.

use crate::lint::{Finding, Severity};
use serde::de::Error;
use serde::{Deserialize, Deserializer};

/// What is reported where the command line says nothing else.
#[derive(Deserialize, Clone, PartialEq, Eq, Default, Debug)]
#[serde(default, deny_unknown_fields, rename_all = "kebab-case", expecting = "a table")]
pub struct Check {
    /// The names of the findings that are reported; all are if there are none here.
    #[serde(deserialize_with = "names")]
    pub only: Vec<&'static str>,
    /// The names of the findings that are not reported.
    #[serde(deserialize_with = "names")]
    pub skip: Vec<&'static str>,
    /// The least severity that is something to act on.
    pub fail_on: Option<Severity>,
}

impl Check {
    /// What these and `fallback` say together: `only` here also sets aside what is skipped there.
    #[must_use]
    pub fn or(&self, fallback: &Check) -> Check {
        let said = |here: &[&'static str], there: &[&'static str]| {
            if here.is_empty() { there } else { here }.to_vec()
        };
        let skip = if self.only.is_empty() { &fallback.skip } else { &Vec::new() };
        Check {
            only: said(&self.only, &fallback.only),
            skip: said(&self.skip, skip),
            fail_on: self.fail_on.or(fallback.fail_on),
        }
    }

    /// Whether this finding is reported.
    pub fn reports(&self, finding: &Finding) -> bool {
        (self.only.is_empty() || self.only.contains(&finding.name)) && !self.skip.contains(&finding.name)
    }
}

/// The names of findings that there are.
fn names<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Vec<&'static str>, D::Error> {
    let known = |name: String| {
        Finding::named(&name).map(|finding| finding.name).ok_or_else(|| {
            let advice = match Finding::near(&name).as_slice() {
                [] => "`gridsetter explain` lists them".to_owned(),
                near => format!("did you mean {}?", near.join(" or ")),
            };
            D::Error::custom(format!("no finding is called `{name}`; {advice}"))
        })
    };
    Vec::<String>::deserialize(deserializer)?.into_iter().map(known).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_said_nearer_holds() {
        let said = |only: &[&'static str], skip: &[&'static str]| Check {
            only: only.to_vec(),
            skip: skip.to_vec(),
            fail_on: None,
        };
        let there = said(&["undecided"], &["row-length", "encoding"]);
        assert_eq!(said(&[], &[]).or(&there), there);
        assert_eq!(said(&["row-length"], &[]).or(&there), said(&["row-length"], &[]));
        assert_eq!(said(&[], &["undecided"]).or(&there), said(&["undecided"], &["undecided"]));
        let grave = |fail_on| Check { fail_on, ..Check::default() };
        for (here, result) in [(None, Severity::Info), (Some(Severity::Error), Severity::Error)] {
            assert_eq!(grave(here).or(&grave(Some(Severity::Info))), grave(Some(result)));
        }
    }
}
