//! Geometry and state: sizes, cells, digits, houses, layouts and grids. Knows no search and no text format.
