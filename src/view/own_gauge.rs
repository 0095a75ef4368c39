//! What comes out when a maker has another gauge than the pattern.

use crate::compiled::compile;
use crate::diagnostic::{Edit, Fix, Safety};
use crate::measure::table::finished_table;
use crate::syntax::tree::{File, Header, LineKind, Text};
use crate::units::{self, Length, Unit};
use crate::{syntax, words};

/// A maker's gauge: stitches and rows over 10 cm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnGauge {
    /// Stitches over 10 cm.
    pub stitches: f64,
    /// Rows or rounds over 10 cm.
    pub rows: f64,
}

/// The finished measurements that come out by a maker's gauge, beside those that are stated. It stands for the first gauge of the
/// pattern; the others are taken to differ as much. Nothing where the pattern has no gauge or states no measurement, or where no
/// fabric has such a gauge.
#[must_use]
pub fn by_own_gauge(text: &str, own: OwnGauge) -> Option<String> {
    let text = &*words::with_line_feeds(text);
    let (tree, _) = syntax::parse(text);
    let gauges = gauges(&tree);
    let first = gauges.first()?;
    let (wide, tall) = (own.stitches / first.stitches, own.rows / first.rows);
    if !(wide.is_finite() && tall.is_finite() && (0.1..10.0).contains(&wide) && (0.1..10.0).contains(&tall)) {
        return None;
    }
    let edits = gauges.iter().flat_map(|gauge| {
        let edit = |old: &Text, by: f64| Some(Edit { span: old.span, text: number(units::number(&old.text)? * by) });
        [edit(gauge.across, wide), edit(gauge.up, tall)].into_iter().flatten()
    });
    let fix = Fix { title: String::new(), edits: edits.collect(), safety: Safety::ChangesFabric };
    let worked = compile(&fix.apply(text));
    Some(finished_table(&worked.pattern, &worked.fabric, |_| true)).filter(|table| !table.is_empty())
}

/// A gauge as it is written, and what it comes to over 10 cm.
struct Written<'t> {
    across: &'t Text,
    up: &'t Text,
    stitches: f64,
    rows: f64,
}

fn gauges(tree: &File) -> Vec<Written<'_>> {
    tree.lines.iter().filter_map(|line| gauge(&line.kind)).collect()
}

fn gauge(line: &LineKind) -> Option<Written<'_>> {
    let LineKind::Header(Header::Gauge { stitches, rows, over, .. }) = line else { return None };
    let over = Length::of(units::number(&over.number)?, Unit::named(&over.unit)?)?;
    let tens = over.to(Unit::Centimetre) / 10.0;
    let over_ten = |said: &Text| units::number(&said.text).map(|said| said / tens);
    Some(Written { across: stitches, up: rows, stitches: over_ten(stitches)?, rows: over_ten(rows)? })
}

/// Two places behind the point are finer than any swatch is measured.
fn number(value: f64) -> String {
    format!("{value:.2}")
}

#[cfg(test)]
mod tests {
    use super::*;

    const BAND: &str = "pattern Tide Band\nterms US\ngauge 20 sts x 20 rows in sc = 10 cm\ngauge edge 10 sts x 10 rows in sc = 5 cm\n\
                        finished width 10 cm\npiece Band, in rows\nlead ch 1\nstart ch 21\nrow 1: sc in 2nd ch from hook, sc to end = 20\n\
                        fasten off\n";

    /// Twenty stitches at 25 to 10 cm are 8 cm wide; arithmetic.
    #[test]
    fn fewer_centimetres_come_out_of_a_tighter_gauge() {
        let told = by_own_gauge(BAND, OwnGauge { stitches: 25.0, rows: 20.0 }).unwrap();
        assert!(told.contains("8 cm"), "{told}");
        let told = by_own_gauge(BAND, OwnGauge { stitches: 20.0, rows: 20.0 }).unwrap();
        assert!(told.contains("agrees"), "{told}");
    }

    #[test]
    fn what_is_no_gauge_has_no_answer() {
        for stitches in [0.0, -4.0, f64::NAN, f64::INFINITY, 1e9] {
            assert_eq!(by_own_gauge(BAND, OwnGauge { stitches, rows: 20.0 }), None);
        }
        assert_eq!(by_own_gauge("pattern Bare\nterms US\n", OwnGauge { stitches: 20.0, rows: 20.0 }), None);
    }
}
