//! Human reasoning: the patterns by which a step is found, one file a family.
