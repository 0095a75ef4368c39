//! Stitches that are as low, or as tall, as the other terms' word means: `6 dc in ring` of the UK in a US pattern.

use super::context::Context;
use crate::diagnostic::{Code, Diagnostic, Span};
use crate::fabric::{LeadWorked, Row};
use crate::gauge::heights::{self, Height};
use crate::pattern::model::{Gauge, ItemKind, Kind, Pattern, Piece, Start, StitchId, Terms, gauge_for};

pub(super) const CODE: Code = Code("us-or-uk");

/// Chains that stand before a stitch as low as the other terms' one.
const LOW_LEAD: u32 = 1;

/// A part of the stitches of a piece that is all of them but for its edging (common practice, no source).
const NEARLY_ALL: f64 = 0.9;

/// With fewer stitches than these a gauge says nothing of what is worked.
const FEWEST: u32 = 60;

pub(super) fn run(context: Context<'_>) -> Vec<Diagnostic> {
    let gauges = context.pattern.head.gauges.iter().enumerate();
    let of_gauges: Vec<Diagnostic> = gauges.filter_map(|(at, gauge)| of_gauge(context, at, gauge)).collect();
    // What the gauge says of every piece is not said of each of them.
    if !of_gauges.is_empty() {
        return of_gauges;
    }
    let pieces = context.pattern.pieces.iter().enumerate();
    pieces.filter_map(|(at, piece)| of_ring(context, at, piece)).collect()
}

/// A word of the terms of the file that means another stitch in the other terms.
struct Word {
    short: String,
    here: Height,
    there: Height,
    /// What the other terms' stitch is called here.
    instead: String,
}

impl Word {
    fn of(pattern: &Pattern, stitch: StitchId) -> Option<Self> {
        let stitches = &pattern.stitches;
        let named = stitches.get(stitch).filter(|stitch| !stitch.own)?;
        let plain = stitches.plain(named.height)?;
        let short = stitches.get(plain)?.names(pattern.terms).short.clone();
        let there = stitches.find(&short, other(pattern.terms)).filter(|there| *there != plain)?;
        let instead = stitches.get(there)?.names(pattern.terms).short.clone();
        Some(Self { short, here: heights::of(stitches, plain)?, there: heights::of(stitches, there)?, instead })
    }

    fn finding(&self, pattern: &Pattern, message: String, span: Span, label: &str) -> Diagnostic {
        let (ours, theirs) = (called(pattern.terms), called(other(pattern.terms)));
        let (short, instead) = (&self.short, &self.instead);
        Diagnostic::warning(CODE, message, span, label)
            .with_note(format!("what the {theirs} calls {short} is called {instead} in a file with `terms {ours}`"))
            .with_help(format!("write {instead} for it; or `terms {theirs}`, if the whole pattern speaks so"))
    }
}

fn other(terms: Terms) -> Terms {
    match terms {
        Terms::Us => Terms::Uk,
        Terms::Uk => Terms::Us,
    }
}

fn called(terms: Terms) -> &'static str {
    match terms {
        Terms::Us => "US",
        Terms::Uk => "UK",
    }
}

/// A gauge whose rows are as tall as the other terms' stitch.
fn of_gauge(context: Context<'_>, at: usize, gauge: &Gauge) -> Option<Diagnostic> {
    /// Hands differ by so much more than those of the table at most.
    const MOST_GIVE: f64 = 2.0;
    let pattern = context.pattern;
    let named = gauge.stitch.as_deref().and_then(|name| pattern.stitches.find(name.trim(), pattern.terms));
    let word = Word::of(pattern, named.or_else(|| worked_by(context, at))?)?;
    let swatch = gauge.swatch?;
    let tall = swatch.stitches / swatch.rows;
    let fits = |height: Height| (tall - height.widths).abs() <= height.give * MOST_GIVE;
    if fits(word.here) || !fits(word.there) {
        return None;
    }
    let (short, terms) = (&word.short, called(pattern.terms));
    let how = if word.there.widths < word.here.widths { "low" } else { "tall" };
    let message = format!("the rows of this gauge are too {how} for {short} of the {terms}");
    let label =
        format!("a row is {tall:.1} times as tall as a stitch is wide; in {short} it is about {:.1}", word.here.widths);
    Some(word.finding(pattern, message, gauge.span, &label))
}

/// The stitch that the pieces are worked in that go by a gauge, if it is one and leaves no spaces.
fn worked_by(context: Context<'_>, gauge: usize) -> Option<StitchId> {
    let pattern = context.pattern;
    let by_it = |piece: &Piece| gauge_for(&pattern.head, piece.using.as_deref()).is_some_and(|(at, _)| at == gauge);
    let pieces = pattern.pieces.iter().zip(&context.fabric.pieces).filter(|(piece, _)| by_it(piece));
    let rows: Vec<&Row> = pieces.flat_map(|(_, worked)| &worked.sizes).flat_map(|size| &size.rows).collect();
    let height = |id: StitchId| pattern.stitches.get(id).filter(|stitch| !stitch.own).map(|stitch| stitch.height);
    let made = || rows.iter().flat_map(|row| &row.ledger.made);
    if made().any(|made| matches!(made.kind, Kind::Space(_) | Kind::Chain)) {
        return None;
    }
    let stitch = |kind| if let Kind::Stitch(id) = kind { Some(id) } else { None };
    let most = made().max_by_key(|made| made.count).and_then(|made| stitch(made.kind))?;
    let (mut alike, mut all) = (0_u32, 0_u32);
    for made in made() {
        let same = stitch(made.kind).is_some_and(|id| height(id).is_some() && height(id) == height(most));
        alike = alike.saturating_add(if same { made.count } else { 0 });
        all = all.saturating_add(made.count);
    }
    (all >= FEWEST && f64::from(alike) >= f64::from(all) * NEARLY_ALL).then_some(most)
}

/// A first round of so few stitches after so short a chain that they lie flat only as the other terms' stitch.
fn of_ring(context: Context<'_>, at: usize, piece: &Piece) -> Option<Diagnostic> {
    /// A round that lies flat may have one stitch more or less than is reckoned.
    const ONE: f64 = 1.0;
    let middle = matches!(piece.start, Start::Ring | Start::ChainRing(_) | Start::Chain(_));
    let size = context.fabric.pieces.get(at)?.sizes.first()?;
    let row = size.rows.first().filter(|_| middle && piece.way.rounds())?;
    let low = match row.lead {
        LeadWorked::None | LeadWorked::InStart(None) => true,
        LeadWorked::Plain(chains) => chains <= LOW_LEAD,
        LeadWorked::Counted(..) | LeadWorked::InStart(Some(_)) => false,
    };
    let [made] = row.ledger.made.as_slice() else { return None };
    let Kind::Stitch(stitch) = made.kind else { return None };
    let word = Word::of(context.pattern, stitch).filter(|word| low && word.there.widths < word.here.widths)?;
    let most = word.there.widths.mul_add(std::f64::consts::TAU, ONE);
    let goes_on = size.rows.get(1).is_some_and(|next| next.ledger.worked >= row.ledger.stitches);
    if row.ledger.chains > 0 || f64::from(row.ledger.stitches) > most || !goes_on {
        return None;
    }
    let item = piece.items.get(row.source)?;
    let ItemKind::Work(line) = &item.kind else { return None };
    let flat = (word.here.widths * std::f64::consts::TAU).round();
    let (count, short) = (row.ledger.stitches, &word.short);
    let message = format!(
        "{} begins a round piece with {count} {short}, as many as lie flat in {}",
        context.first_of(at, row.item),
        word.instead
    );
    let label = format!("about {flat} {short} of the {} lie flat", called(context.pattern.terms));
    Some(word.finding(context.pattern, message, line.steps_span, &label))
}
