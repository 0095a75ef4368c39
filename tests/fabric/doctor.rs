//! The count doctor: slips are made in the work of every sample and every printed pattern by a fixed rule, what they come to
//! is reckoned from the graph alone, and the true slip has to be among the first that are told.

#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test says what it expects by failing")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use ringtrue::doctor::{Asked, Mishap, NoAnswer, ask};
use ringtrue::fabric::{Graph, GraphRow, LeadWorked, On, What, graph};
use ringtrue::pattern::model::Way;
use ringtrue::{Compiled, compile};

/// A slip that was made in the work: what it was, in which row (by its index in the piece), and by how much it changes the count.
#[derive(Debug, Clone, Copy)]
struct Made {
    slip: Mishap,
    row: usize,
    by: i64,
}

/// Where the stitches of a row stand.
struct Standing<'g> {
    graph: &'g Graph,
    row: &'g GraphRow,
    /// The stitches that stand in one place alone, by the place.
    alone: BTreeMap<(On, usize), Vec<usize>>,
    /// Those over two stitches.
    together: Vec<usize>,
}

impl<'g> Standing<'g> {
    fn of(graph: &'g Graph, row: &'g GraphRow) -> Self {
        let (mut alone, mut together) = (BTreeMap::<(On, usize), Vec<usize>>::new(), Vec::new());
        for at in row.nodes.clone() {
            let node = &graph.nodes[at];
            let feet: BTreeSet<(On, usize)> =
                graph.feet(node).iter().filter_map(|foot| Some((foot.on, foot.node?))).collect();
            if !node.on_edge || !matches!(node.what, What::Stitch(_)) {
                continue;
            }
            match feet.len() {
                1 => alone.entry(*feet.first().unwrap()).or_default().push(at),
                2 if feet.iter().all(|(on, _)| *on == On::Top) => together.push(at),
                _ => {}
            }
        }
        Self { graph, row, alone, together }
    }

    /// One stitch in each of some tops, and nothing else.
    fn is_plain(&self) -> bool {
        let plain = |node: usize| matches!(self.graph.nodes[node].what, What::Chain | What::JoinTo(_));
        self.alone.len() > 2
            && self.alone.iter().all(|((on, _), stitches)| *on == On::Top && stitches.len() == 1)
            && self.together.is_empty()
            && !self.row.nodes.clone().any(plain)
    }

    fn middle(&self, wanted: impl Fn(On, &[usize]) -> bool) -> Option<usize> {
        let all: Vec<usize> =
            self.alone.iter().filter(|((on, _), stitches)| wanted(*on, stitches)).map(|(_, all)| all.len()).collect();
        all.get(all.len() / 2).copied()
    }
}

/// A slip of one of the sorts in a row, if there is room for it there.
fn slip(sort: usize, standing: &Standing<'_>, below: Option<&GraphRow>, way: Way) -> Option<(Mishap, i64)> {
    let (plain_row, row) = (standing.is_plain(), standing.row);
    let many = |count: usize| -i64::try_from(count).unwrap();
    match sort {
        0 => standing.middle(|on, all| on == On::Top && all.len() > 1).map(|_| (Mishap::IncreaseMissed, -1)),
        1 if !standing.together.is_empty() => Some((Mishap::DecreaseMissed, 1)),
        2 if below.is_some() && plain_row => Some((Mishap::LastMissed, -1)),
        3 if plain_row && way == Way::Rows => {
            matches!(below?.lead, LeadWorked::Plain(_)).then_some((Mishap::LeadWorked, 1))
        }
        3 if plain_row && way == Way::JoinedRounds && below.is_some() => Some((Mishap::JoinWorked, 1)),
        4 if plain_row && row.number > 1 => Some((Mishap::StitchMissed, -1)),
        5 if plain_row && below.is_some() => Some((Mishap::StitchDoubled, 1)),
        6 => standing.middle(|on, _| on == On::Space).map(|count| (Mishap::SpaceMissed, many(count))),
        7 if below.is_none() && plain_row => {
            let on_chain = |(_, node): &(On, usize)| standing.graph.nodes[*node].what == What::Base;
            (way == Way::Rows && standing.alone.keys().all(on_chain)).then_some((Mishap::StartShort, -1))
        }
        8 if plain_row => Some((Mishap::StitchDoubled, 1)),
        _ => None,
    }
}

const SORTS: usize = 9;

/// So many rows of a piece are looked at.
const ROWS_OF_A_PIECE: usize = 2;

/// The slips that are made in a piece, each with the row that is counted.
fn slips(compiled: &Compiled, piece: usize, turn: usize) -> Vec<(Made, usize)> {
    let whole = graph(&compiled.pattern, piece, 0);
    let rows: Vec<&GraphRow> = whole.rows.iter().filter(|row| row.piece == piece).collect();
    let way = compiled.pattern.pieces[piece].way;
    let step = (rows.len() / ROWS_OF_A_PIECE).max(1);
    let mut made = Vec::new();
    for at in (0..rows.len()).step_by(step) {
        let standing = Standing::of(&whole, rows[at]);
        let below = at.checked_sub(1).map(|below| rows[below]);
        let found = (0..SORTS).find_map(|sort| slip((sort + turn + at) % SORTS, &standing, below, way));
        let Some((slip, by)) = found else { continue };
        // Every third is only seen one or two rows later, where these are plain.
        let later = if (turn + at).is_multiple_of(3) { 1 + (turn + at) % 2 } else { 0 };
        let plain = |at: usize| rows.get(at).is_some_and(|row| Standing::of(&whole, row).is_plain());
        let later = if (1..=later).all(|later| plain(at + later)) { later } else { 0 };
        made.push((Made { slip, row: at, by }, at + later));
    }
    made
}

#[test]
#[expect(clippy::print_stdout, reason = "the share is what is looked for")]
fn slips_in_the_work_are_among_the_first_that_are_told() {
    let folders = ["samples", "tests/print"].map(|folder| fs::read_dir(folder).unwrap());
    let paths = folders.into_iter().flatten().map(|entry| entry.unwrap().path());
    let mut paths: Vec<_> = paths.filter(|path| path.extension().is_some_and(|ending| ending == "rnd")).collect();
    paths.sort();
    let mut by_slip: BTreeMap<Mishap, (usize, usize)> = BTreeMap::new();
    for (file, path) in paths.iter().enumerate() {
        let compiled = compile(&fs::read_to_string(path).unwrap());
        for piece in 0..compiled.pattern.pieces.len() {
            for (made, counted) in slips(&compiled, piece, file + 3 * piece) {
                let rows = &compiled.fabric.pieces[piece].sizes[0].rows;
                let chains = if compiled.pattern.counts_chains { rows[counted].ledger.chains } else { 0 };
                let mine = i64::from(rows[counted].ledger.stitches + chains) + made.by;
                let Ok(mine) = u32::try_from(mine) else { continue };
                let asked = Asked { piece, row: rows[counted].number, size: 0, mine };
                let told = ask(&compiled, &asked);
                // A number that is given to another row in some size is not one to ask by.
                if told == Err(NoAnswer::NoSuchRow) || told == Err(NoAnswer::AsItShouldBe) {
                    continue;
                }
                let wanted = rows[made.row].number;
                let likely = told.unwrap_or_default();
                let found = likely.iter().take(3).any(|one| one.slip == made.slip && one.rows.contains(&wanted));
                let (all, hits) = by_slip.entry(made.slip).or_default();
                (*all, *hits) = (*all + 1, *hits + usize::from(found));
            }
        }
    }
    let (all, hits) = by_slip.values().fold((0, 0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
    println!("{hits} of {all} slips are among the first three: {}%\n{by_slip:#?}", hits * 100 / all);
    assert!(all > 500, "{all} slips were made");
    assert!(hits * 100 >= 85 * all, "{hits} of {all}");
    // No sort that is made often is much worse than all together.
    for (slip, (all, hits)) in by_slip.into_iter().filter(|(_, (all, _))| *all > 20) {
        assert!(hits * 100 >= 85 * all, "{slip:?}: {hits} of {all}");
    }
}

#[test]
fn what_is_told_says_how_to_see_it_and_how_to_go_on() {
    let text = "pattern Ball\nterms US\n\npiece Ball, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc 6 = 12\n\
        rnd 3: [sc, inc] to end = 18\nrnds 4-6: sc to end = 18\n";
    let compiled = compile(text);
    let told = |row, mine| ask(&compiled, &Asked { piece: 0, row, size: 0, mine });
    assert_eq!(told(3, 18), Err(NoAnswer::AsItShouldBe));
    assert_eq!(told(9, 18), Err(NoAnswer::NoSuchRow));
    assert_eq!(told(3, 99), Err(NoAnswer::NothingFound { should: 18 }));
    let likely = told(5, 17).unwrap();
    let increase = likely.iter().find(|one| one.slip == Mishap::IncreaseMissed).unwrap();
    assert!(increase.happened.contains("round 3") && increase.see.contains("6 places"), "{increase:?}");
    // One increase in the next round was tried, and gives the 18 that it should.
    assert!(increase.go_on.contains("round 6"), "{increase:?}");
    // Behind the last round there is none to make up for it in.
    assert!(told(6, 17).unwrap().iter().all(|one| !one.go_on.contains("leave it")));
    let faulty = compile(&text.replace("= 12", "= 13"));
    assert_eq!(ask(&faulty, &Asked { piece: 0, row: 3, size: 0, mine: 17 }), Err(NoAnswer::Faulty));
}
