//! How a piece begins and ends, from the words of a pattern into the notation.

use pest::iterators::Pair;
use ringtrue_grammar::prose::Rule;

use super::told::{Lead, Result, Teller, Unread, amount, name, piece_name, yarn};

/// How a piece begins.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Begun {
    /// The `start` line, without its first word.
    pub start: String,
    /// The yarn that it begins with.
    pub yarn: Option<String>,
    /// Whether it begins with a chain, which the first row goes along.
    pub on_chain: bool,
    /// The corner that it begins in, where it goes round copies that lie side by side.
    pub corner: Option<String>,
    /// Steps that belong to its first row.
    pub first_steps: Vec<String>,
    /// The piece whose yarn is not cut.
    pub goes_on: Option<String>,
}

/// What is said of a piece before it begins.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Intro {
    /// How often it is made.
    Copies(String),
    /// How it is worked, as the piece line says it.
    Way(&'static str),
    /// How it goes on from there.
    Now(&'static str),
    /// The last row before that is joined without turning.
    Unturned,
    /// Rows, each of which says whether it is turned first.
    RowsSayTurns,
    /// Joined rounds that are turned.
    Turned,
    /// What every row or round starts with.
    Lead(Lead),
    /// Colours by rows or rounds.
    Stripes(String),
    /// It says nothing that its lines don't say.
    Nothing,
}

/// The sentence that a piece begins with.
pub(super) fn start(pair: Pair<'_, Rule>, pieces: &[String]) -> Result<Begun> {
    let mut begun = Begun::default();
    let mut again = "";
    for part in pair.into_inner() {
        let inner: Vec<Pair<'_, Rule>> = part.clone().into_inner().collect();
        if let Some(yarn) = named_yarn(&inner) {
            begun.yarn = Some(yarn);
        }
        match part.as_rule() {
            Rule::preface_part | Rule::placed_at | Rule::EOI => {}
            Rule::worked_again => again = "again ",
            _ => begins(&part, &inner, pieces, &mut begun)?,
        }
    }
    begun.start = format!("{again}{}", begun.start);
    Ok(begun)
}

fn named_yarn(parts: &[Pair<'_, Rule>]) -> Option<String> {
    Some(yarn(parts)).filter(|yarn| !yarn.is_empty())
}

fn begins(part: &Pair<'_, Rule>, inner: &[Pair<'_, Rule>], pieces: &[String], begun: &mut Begun) -> Result<()> {
    let number = inner.iter().find(|part| part.as_rule() == Rule::amount).map(amount).unwrap_or_default();
    let of =
        || inner.iter().find(|part| part.as_rule() == Rule::piece).map(|p| piece_name(p, pieces)).unwrap_or_default();
    begun.on_chain =
        matches!(part.as_rule(), Rule::start_joined | Rule::start_chain | Rule::on_other_side | Rule::rejoined_chain);
    begun.first_steps = first_steps(inner)?;
    begun.start = match part.as_rule() {
        Rule::start_ring => "ring".to_owned(),
        Rule::start_joined => format!("ch {number} joined"),
        Rule::start_chain => format!("ch {number}"),
        Rule::start_foundation => {
            let stitch = inner.iter().find(|part| part.as_rule() == Rule::stitch).map(name).unwrap_or_default();
            format!("{number} {stitch}")
        }
        Rule::on_row_ends | Rule::any_row_end => format!("edge of {}", of()),
        Rule::on_other_side | Rule::rejoined_chain => format!("other side of {}", of()),
        Rule::free_loops => {
            let which = inner.iter().find(|part| part.as_rule() == Rule::free_which).map_or("", Pair::as_str);
            format!("{} loops of rnd {number} of {}", which.trim(), of())
        }
        Rule::on_top => format!("top of {}", of()),
        Rule::round_copies => {
            let all = || part.clone().into_inner().flatten();
            let of = all().find(|part| part.as_rule() == Rule::piece);
            begun.corner = all().find(|part| part.as_rule() == Rule::space).map(|space| space.as_str().to_owned());
            format!("around {}", of.map(|of| piece_name(&of, pieces)).unwrap_or_default())
        }
        Rule::all_round => format!("around {}", of()),
        Rule::on_side => {
            let has = |rule| inner.iter().any(|part| part.as_rule() == rule);
            // With the wrong side facing a left edge begins at the bottom.
            let left = has(Rule::rows_end) || has(Rule::at_top) && !has(Rule::rows_begin);
            format!("{} edge of {}", if left { "left" } else { "right" }, of())
        }
        Rule::on_thing => format!("{number} places on the edge"),
        Rule::on_opening => return on_opening(inner, pieces, begun),
        Rule::on_through => {
            let edges = inner.iter().filter(|part| part.as_rule() == Rule::edge);
            format!("through {}", edges.map(|edge| edge_of(edge, pieces)).collect::<Result<Vec<_>>>()?.join(" and "))
        }
        Rule::on_bridge => on_bridge(inner, pieces, begun)?,
        Rule::going_on | Rule::along_parts | Rule::along_later | Rule::on_several => {
            let edges = inner.iter().filter(|part| part.as_rule() == Rule::edge);
            edges.map(|edge| edge_of(edge, pieces)).collect::<Result<Vec<_>>>()?.join(" + ")
        }
        _ => return Err(Unread::new(part.as_str())),
    };
    Ok(())
}

/// Over a bridge of chains, from a piece whose yarn isn't cut or with yarn that is joined.
fn on_bridge(inner: &[Pair<'_, Rule>], pieces: &[String], begun: &mut Begun) -> Result<String> {
    let from = inner.iter().find(|part| part.as_rule() == Rule::cut_from);
    begun.goes_on = from.map(|from| piece_name(from, pieces));
    let joins = inner.iter().find(|part| part.as_rule() == Rule::joins_from);
    begun.yarn = joins.and_then(|joins| named_yarn(&joins.clone().into_inner().collect::<Vec<_>>()));
    let edges = inner.iter().filter(|part| part.as_rule() == Rule::bridged);
    Ok(edges.map(|edge| bridged(edge, pieces)).collect::<Result<Vec<_>>>()?.join(" + "))
}

/// Round an opening, or along one side of it.
fn on_opening(inner: &[Pair<'_, Rule>], pieces: &[String], begun: &mut Begun) -> Result<()> {
    let flat = || inner.iter().cloned().chain(inner.iter().flat_map(|part| part.clone().into_inner().flatten()));
    let has = |rule: Rule| flat().any(|part| part.as_rule() == rule);
    let of = inner.iter().find(|part| part.as_rule() == Rule::opening_of).ok_or_else(|| Unread::new("an opening"))?;
    let words: Vec<&str> =
        flat().filter(|part| part.as_rule() == Rule::opening_word).map(|part| part.as_str()).collect();
    let of = format!("{} of {}", words.join(" "), piece_name(of, pieces));
    if has(Rule::opening_along) {
        let side = if has(Rule::opening_chain) { "chain" } else { "stitches" };
        begun.start = format!("{side} of {of}");
        return Ok(());
    }
    let from = match (has(Rule::opening_middle), has(Rule::opening_chain)) {
        (true, _) => " from middle of chain",
        (false, true) => " from chain",
        (false, false) => "",
    };
    let corner =
        flat().find(|part| part.as_rule() == Rule::corner_places).and_then(|corner| corner.into_inner().next());
    let corner = corner.map(|number| format!(" with {} at each corner", amount(&number))).unwrap_or_default();
    begun.start = format!("around {of}{from}{corner}");
    Ok(())
}

fn bridged(part: &Pair<'_, Rule>, pieces: &[String]) -> Result {
    let Some(inner) = part.clone().into_inner().next() else { return Err(Unread::new(part.as_str())) };
    match inner.as_rule() {
        Rule::other_of_these => Ok("other side of ch".to_owned()),
        Rule::these_chains => {
            Ok(format!("ch {}", inner.into_inner().map(|number| amount(&number)).collect::<String>()))
        }
        _ => edge_of(&inner, pieces),
    }
}

/// What is passed over before yarn is joined belongs to the first row.
fn first_steps(inner: &[Pair<'_, Rule>]) -> Result<Vec<String>> {
    let mut steps = Vec::new();
    let mut teller = Teller { on_chain: true, ..Teller::default() };
    for part in inner.iter().filter(|part| part.as_rule() == Rule::begun_later) {
        for passed in part.clone().into_inner() {
            for target in passed.into_inner() {
                steps.push(teller.target(target)?.skipped()?);
            }
        }
    }
    Ok(steps)
}

fn edge_of(edge: &Pair<'_, Rule>, pieces: &[String]) -> Result {
    let (mut whole, mut part) = (String::new(), None);
    for piece in edge.clone().into_inner() {
        let inner: Vec<Pair<'_, Rule>> = piece.clone().into_inner().collect();
        let of = || piece_name(&piece, pieces);
        match piece.as_rule() {
            Rule::row_ends => whole = format!("edge of {}", of()),
            Rule::other_side_of => whole = format!("other side of {}", of()),
            Rule::last_line => whole = format!("top of {}", of()),
            Rule::all_edges => whole = format!("around {}", of()),
            Rule::side_of => {
                let left = inner.iter().any(|part| part.as_rule() == Rule::side_end);
                whole = format!("{} edge of {}", if left { "left" } else { "right" }, of());
            }
            Rule::new_chains => whole = format!("ch {}", inner.iter().map(amount).collect::<String>()),
            Rule::part => part = inner.first().cloned(),
            _ => {}
        }
    }
    match part {
        Some(part) => part_of(&part, &whole),
        None => Ok(whole),
    }
}

fn part_of(part: &Pair<'_, Rule>, whole: &str) -> Result {
    let inner: Vec<Pair<'_, Rule>> = part.clone().into_inner().collect();
    let numbers: Vec<String> = inner.iter().filter(|p| p.as_rule() == Rule::amount).map(amount).collect();
    let which: Vec<&str> = inner.iter().filter(|p| p.as_rule() == Rule::part_which).map(Pair::as_str).collect();
    Ok(match (part.as_rule(), numbers.as_slice(), which.as_slice()) {
        (Rule::first_free, [number], [which]) => format!("{which} {number} of rest of {whole}"),
        (Rule::still_free, ..) => format!("rest of {whole}"),
        (Rule::simple_part, [number], [which]) => format!("{which} {number} of {whole}"),
        (Rule::within, [one, two], [which, wider]) => format!("{which} {one} of {wider} {two} of {whole}"),
        (Rule::skipping, [skipped, next], _) => {
            let both = sum(skipped, next).ok_or_else(|| Unread::new(part.as_str()))?;
            format!("last {next} of first {both} of {whole}")
        }
        _ => return Err(Unread::new(part.as_str())),
    })
}

/// The sum of two numbers, size by size.
pub(super) fn sum(one: &str, other: &str) -> Option<String> {
    let numbers = |text: &str| text.split(" / ").map(|n| n.parse::<u32>().ok()).collect::<Option<Vec<_>>>();
    let (one, other) = (numbers(one)?, numbers(other)?);
    let size = |list: &[u32], at: usize| list.get(at).or(list.first()).copied();
    let sums = (0..one.len().max(other.len())).map(|at| size(&one, at)?.checked_add(size(&other, at)?));
    Some(sums.map(|sum| Some(sum?.to_string())).collect::<Option<Vec<_>>>()?.join(" / "))
}

/// How copies lie side by side, as a piece line says it.
pub(super) fn layout(pair: Pair<'_, Rule>) -> Option<String> {
    let parts: Vec<Pair<'_, Rule>> = pair.into_inner().collect();
    let numbers: Vec<&str> = parts.iter().filter(|part| part.as_rule() == Rule::number).map(Pair::as_str).collect();
    let [_, across, down] = numbers.as_slice() else { return None };
    let laid = parts.iter().find(|part| matches!(part.as_rule(), Rule::laid_joined | Rule::laid_sewn))?;
    let spaces: Vec<&str> =
        laid.clone().into_inner().filter(|part| part.as_rule() == Rule::space).map(|part| part.as_str()).collect();
    match spaces.as_slice() {
        [joined, corners] => {
            Some(format!("in a layout of {across} x {down}, joined in {joined}, corners in {corners}"))
        }
        [corners] => Some(format!("in a layout of {across} x {down}, sewn, corners in {corners}")),
        _ => None,
    }
}

/// The sentence that a piece, or a part of it, ends with.
pub(super) fn ending(pair: Pair<'_, Rule>, pieces: &[String]) -> Option<String> {
    let part = pair.into_inner().next()?;
    let inner: Vec<Pair<'_, Rule>> = part.clone().into_inner().collect();
    let number = inner.iter().find(|part| part.as_rule() == Rule::amount).map(amount);
    Some(match part.as_rule() {
        Rule::fastened => "fasten off".to_owned(),
        Rule::gathered => format!("gather {}", number.unwrap_or_default()),
        Rule::changed => format!("change to {}", yarn(&inner)),
        Rule::sewn_on => {
            let names: Vec<String> =
                inner.iter().filter(|part| part.as_rule() == Rule::piece).map(|p| piece_name(p, pieces)).collect();
            let over = number.map(|number| format!(" over {number}")).unwrap_or_default();
            format!("sew {}{over}", names.join(" to "))
        }
        _ => return None,
    })
}

/// A sentence that is said of a piece before it begins.
pub(super) fn intro(pair: Pair<'_, Rule>) -> Option<Intro> {
    let part = pair.into_inner().next()?;
    let inner: Vec<Pair<'_, Rule>> = part.clone().into_inner().collect();
    Some(match part.as_rule() {
        Rule::copies => Intro::Copies(inner.first().map(|n| n.as_str().to_owned()).unwrap_or_default()),
        Rule::unturned_last => Intro::Unturned,
        way @ (Rule::way_rows | Rule::way_rounds | Rule::way_spiral)
            if inner.iter().any(|part| part.as_rule() == Rule::from_here) =>
        {
            let turned = inner.iter().any(|part| part.as_rule() == Rule::turned_too);
            Intro::Now(match way {
                Rule::way_rows => "in rows",
                Rule::way_rounds if turned => "in joined rounds, turned",
                Rule::way_rounds => "in joined rounds",
                _ => "in a spiral",
            })
        }
        Rule::way_rows if inner.iter().any(|part| part.as_rule() == Rule::turn_is_said) => Intro::RowsSayTurns,
        Rule::way_rows => Intro::Way("in rows"),
        Rule::way_tunisian => Intro::Way("in Tunisian rows"),
        Rule::way_one_side => Intro::Way("in rows from one side"),
        Rule::way_rounds if inner.iter().any(|part| part.as_rule() == Rule::turned_too) => Intro::Turned,
        Rule::way_rounds => Intro::Way("in joined rounds"),
        Rule::way_spiral => Intro::Way("in a spiral"),
        Rule::lead_said => {
            let chain = inner.iter().find(|part| part.as_rule() == Rule::lead_chain);
            let number = inner.iter().find(|part| part.as_rule() == Rule::amount).map(amount);
            let number = number.or_else(|| chain.map(|chain| chain.as_str().trim_start_matches("ch-").to_owned()));
            let number = number.unwrap_or_default();
            let counts = inner.iter().find(|part| part.as_rule() == Rule::lead_counts);
            let stitch = counts.and_then(|counts| counts.clone().into_inner().next()).map(|stitch| name(&stitch));
            Intro::Lead(stitch.map_or(Lead::Plain(number.clone()), |stitch| Lead::Counted(number, stitch)))
        }
        Rule::stripes => {
            let stripes = inner.iter().filter(|part| part.as_rule() == Rule::stripe).map(|stripe| {
                let parts: Vec<Pair<'_, Rule>> = stripe.clone().into_inner().collect();
                let number = parts.first().map(|number| number.as_str().to_owned()).unwrap_or_default();
                format!("{} {number}", yarn(&parts))
            });
            Intro::Stripes(stripes.collect::<Vec<_>>().join(", "))
        }
        _ => Intro::Nothing,
    })
}
