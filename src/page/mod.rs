//! The page that a maker works from.
