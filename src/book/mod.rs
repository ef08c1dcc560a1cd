//! A syntax tree made meaningful: collections, puzzles, their layouts, grids and facts.
