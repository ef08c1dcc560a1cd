//! Lists, grids of several lines and tables, in and out.
