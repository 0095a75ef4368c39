//! What rows are laid out on: lines, circles round a middle or a chain, and polygons.

use std::f64::consts::PI;

/// A point, the first number to the right and the second one upwards, in widths of a stitch.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Point {
    pub x: f64,
    pub y: f64,
}

impl Point {
    pub(super) fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    pub(super) fn towards(self, other: Self, part: f64) -> Self {
        Self { x: self.x + (other.x - self.x) * part, y: self.y + (other.y - self.y) * part }
    }

    pub(super) fn distance(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
}

/// A place on a ground: how far out it is, and how far along the line that runs there.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct Spot {
    pub out: f64,
    pub along: f64,
}

/// What rows are laid out on. `along` runs in the direction of a right-side row: to the left, or counter-clockwise.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Ground {
    /// Rows above one another.
    Line,
    /// Rounds that are opened out and laid above one another, all of the same length.
    Strip { length: f64 },
    /// Rounds about a middle that is so long on either side of its centre; 0 for circles.
    Round { half: f64 },
    /// Polygons with so many corners; the first corner is where `along` begins.
    Corners { corners: f64 },
}

impl Ground {
    /// How long the line is that runs so far out; nothing where it has two ends.
    pub(super) fn length(self, out: f64) -> Option<f64> {
        match self {
            Self::Line => None,
            Self::Strip { length } => Some(length),
            Self::Round { half } => Some(4.0 * half + 2.0 * PI * out),
            Self::Corners { corners } => Some(corners * self.side(out)),
        }
    }

    /// How far out a closed line of such a length runs.
    pub(super) fn out_for(self, length: f64) -> f64 {
        match self {
            Self::Line | Self::Strip { .. } => 0.0,
            Self::Round { half } => (length - 4.0 * half) / (2.0 * PI),
            Self::Corners { corners } => length / corners / (2.0 * (PI / corners).tan()),
        }
    }

    fn side(self, out: f64) -> f64 {
        match self {
            Self::Corners { corners } => 2.0 * out * (PI / corners).tan(),
            Self::Line | Self::Strip { .. } | Self::Round { .. } => 0.0,
        }
    }

    /// Whether it is laid about a middle, and not row above row.
    pub(super) fn is_round(self) -> bool {
        matches!(self, Self::Round { .. } | Self::Corners { .. })
    }

    /// The same place so far out instead, straight above or below.
    pub(super) fn carried(self, spot: Spot, out: f64) -> Spot {
        let (Some(from), Some(to)) = (self.length(spot.out), self.length(out)) else {
            return Spot { out, along: spot.along };
        };
        if from <= 0.0 {
            return Spot { out, along: 0.0 };
        }
        let times = (spot.along / from).floor();
        let rest = spot.along - times * from;
        let along = match self {
            Self::Line | Self::Strip { .. } => rest,
            Self::Round { half } => {
                let (straight, arc) = (2.0 * half, PI * spot.out);
                let arc_to = PI * out;
                if rest <= straight {
                    rest
                } else if rest <= straight + arc {
                    straight + (rest - straight) / arc * arc_to
                } else if rest <= 2.0 * straight + arc {
                    rest - arc + arc_to
                } else {
                    2.0 * straight + arc_to + (rest - 2.0 * straight - arc) / arc * arc_to
                }
            }
            Self::Corners { .. } => {
                let (side, side_to) = (self.side(spot.out), self.side(out));
                let sector = (rest / side).floor();
                let off = rest - (sector + 0.5) * side;
                (sector + 0.5) * side_to + off.clamp(-side_to / 2.0, side_to / 2.0)
            }
        };
        Spot { out, along: along + times * to }
    }

    /// The same place so far out instead, as far from the nearest corner as it was.
    pub(super) fn around_corner(self, spot: Spot, out: f64) -> Spot {
        let (side, side_to) = (self.side(spot.out), self.side(out));
        let corner = if side > 0.0 { (spot.along / side).round() } else { 0.0 };
        Spot { out, along: spot.along + corner * (side_to - side) }
    }

    /// A place near a corner on the straight way between two others that lie as far to either side of what is their middle.
    pub(super) fn cut_corner(self, spot: Spot, middle: f64, reach: f64) -> Spot {
        const ABOUT: f64 = 0.3;
        let Self::Corners { corners } = self else { return spot };
        let side = self.side(spot.out).max(1e-9);
        let corner = (spot.along / side).round() * side;
        let off = spot.along - corner;
        if off.abs() >= reach || (middle - corner).abs() > ABOUT {
            return spot;
        }
        let (sin, cos) = (PI / corners).sin_cos();
        let way = (reach - off.abs()) * cos;
        let level = Spot { out: spot.out, along: corner + off.signum() * (reach - way * cos) };
        self.carried(level, spot.out - way * sin)
    }

    /// Where a place is.
    pub(super) fn point(self, spot: Spot) -> Point {
        match self {
            Self::Line | Self::Strip { .. } => Point::new(-spot.along, spot.out),
            Self::Round { half } => {
                let length = 4.0 * half + 2.0 * PI * spot.out;
                let rest = if length > 0.0 { spot.along.rem_euclid(length) } else { 0.0 };
                let (straight, arc) = (2.0 * half, PI * spot.out);
                let turned = |x: f64, angle: f64| Point::new(x + spot.out * angle.sin(), -spot.out * angle.cos());
                if rest < straight {
                    Point::new(rest - half, -spot.out)
                } else if rest <= straight + arc {
                    turned(half, (rest - straight) / spot.out.max(1e-9))
                } else if rest < 2.0 * straight + arc {
                    Point::new(half - (rest - straight - arc), spot.out)
                } else {
                    turned(-half, PI + (rest - 2.0 * straight - arc) / spot.out.max(1e-9))
                }
            }
            Self::Corners { corners } => {
                let side = self.side(spot.out).max(1e-9);
                let sector = (spot.along / side).floor();
                let off = spot.along - (sector + 0.5) * side;
                // The seam lies in the side at the bottom, and the first corner at its right end.
                let angle = 2.0 * PI * (sector + 1.0) / corners;
                let (sin, cos) = angle.sin_cos();
                Point::new(spot.out * sin + off * cos, -spot.out * cos + off * sin)
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{Ground, Point, Spot};

    const GROUNDS: [Ground; 6] = [
        Ground::Line,
        Ground::Strip { length: 30.0 },
        Ground::Round { half: 0.0 },
        Ground::Round { half: 4.0 },
        Ground::Corners { corners: 4.0 },
        Ground::Corners { corners: 6.0 },
    ];

    proptest! {
        /// One step along a line is as long in the picture, away from corners and from bends that are cut short.
        #[test]
        fn a_step_along_is_as_long_in_the_picture(out in 3.0..20.0_f64, along in 0.0..100.0_f64) {
            for ground in GROUNDS {
                let step = |from: f64| {
                    let at = |along| ground.point(Spot { out, along });
                    at(from).distance(at(from + 0.01))
                };
                prop_assert!(step(along) <= 0.01 + 1e-9 && step(along) > 0.006, "{ground:?} {}", step(along));
            }
        }

        /// Straight above is at right angles to the line, and as far as it is said to be.
        #[test]
        fn a_place_is_carried_straight_outwards(out in 3.0..20.0_f64, more in 0.1..3.0_f64, along in -60.0..100.0_f64) {
            for ground in GROUNDS {
                let spot = Spot { out, along };
                let there = ground.carried(spot, out + more);
                let far = ground.point(spot).distance(ground.point(there));
                prop_assert!((far - more).abs() < 1e-6, "{ground:?} {far} {more}");
                let back = ground.carried(there, out);
                prop_assert!((back.along - along).abs() < 1e-6);
            }
        }
    }

    #[test]
    fn the_way_past_a_corner_is_straight() {
        let ground = Ground::Corners { corners: 4.0 };
        let at = |off: f64| ground.point(ground.cut_corner(Spot { out: 5.0, along: 20.0 + off }, 20.0, 0.4));
        let (one, two) = (at(-0.4), at(0.4));
        for off in [-0.3, -0.1, 0.1, 0.3] {
            let there = at(off);
            let by = one.distance(there) + there.distance(two) - one.distance(two);
            assert!(by.abs() < 1e-6, "{off}: {by}");
        }
    }

    /// Elementary geometry: the corners of a square are root 2 as far out as its sides.
    #[test]
    fn a_square_has_its_corners_where_a_square_has_them() {
        let ground = Ground::Corners { corners: 4.0 };
        let corner = |at: f64| ground.point(Spot { out: 5.0, along: at * 10.0 });
        for (at, x, y) in [(0.0, 5.0, -5.0), (1.0, 5.0, 5.0), (2.0, -5.0, 5.0), (3.0, -5.0, -5.0)] {
            assert!(corner(at).distance(Point::new(x, y)) < 1e-9, "{at} {:?}", corner(at));
        }
    }
}
