//! The count doctor: slips are made in the work of every sample and every printed pattern by a fixed rule, what they come to
//! is reckoned from the graph alone, and the true slip has to be among the first that are told.

#![expect(clippy::unwrap_used, clippy::indexing_slicing, reason = "a test says what it expects by failing")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;

use ringtrue::doctor::{Asked, Mishap, NoAnswer, ask};
use ringtrue::fabric::{Graph, GraphRow, LeadWorked, On, What, graph};
use ringtrue::pattern::model::{Kind, Way};
use ringtrue::{Compiled, compile};

/// A slip that was made in the work: what it was, in which row (by its index in the piece), by how much it changes the count, and of
/// what kind of stitch or space that is.
#[derive(Debug, Clone, Copy)]
struct Made {
    slip: Mishap,
    row: usize,
    by: i64,
    kind: Option<Kind>,
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

    fn middle(&self, wanted: impl Fn(On, &[usize]) -> bool) -> Option<&[usize]> {
        let all: Vec<&[usize]> = self
            .alone
            .iter()
            .filter(|((on, _), stitches)| wanted(*on, stitches))
            .map(|(_, all)| all.as_slice())
            .collect();
        all.get(all.len() / 2).copied()
    }

    /// What a stitch is.
    fn kind(&self, node: usize) -> Option<Kind> {
        match self.graph.nodes[node].what {
            What::Stitch(stitch) => Some(Kind::Stitch(stitch)),
            _ => None,
        }
    }

    /// The lengths of the runs of chains between stitches.
    fn runs(&self) -> Vec<u32> {
        let nodes: Vec<bool> = self
            .row
            .nodes
            .clone()
            .map(|at| self.graph.nodes[at].what == What::Chain && self.graph.nodes[at].on_edge)
            .collect();
        let runs = nodes.chunk_by(|one, next| one == next).filter(|run| run[0]);
        runs.map(|run| u32::try_from(run.len()).unwrap()).collect()
    }
}

/// A slip of one of the sorts in a row, if there is room for it there.
type Slipped = (Mishap, i64, Option<Kind>);
fn slip(sort: usize, standing: &Standing<'_>, below: Option<&GraphRow>, way: Way) -> Option<Slipped> {
    let (plain_row, row) = (standing.is_plain(), standing.row);
    let many = |count: usize| -i64::try_from(count).unwrap();
    match sort {
        0 => standing
            .middle(|on, all| on == On::Top && all.len() > 1)
            .map(|all| (Mishap::IncreaseMissed, -1, all.first().and_then(|one| standing.kind(*one)))),
        1 => standing.together.first().map(|one| (Mishap::DecreaseMissed, 1, standing.kind(*one))),
        2 if below.is_some() && plain_row => Some((Mishap::LastMissed, -1, None)),
        3 if plain_row && way == Way::Rows => {
            matches!(below?.lead, LeadWorked::Plain(_)).then_some((Mishap::LeadWorked, 1, None))
        }
        3 if plain_row && way == Way::JoinedRounds && below.is_some() => Some((Mishap::JoinWorked, 1, None)),
        4 if plain_row && row.number > 1 => Some((Mishap::StitchMissed, -1, None)),
        5 if plain_row && below.is_some() => Some((Mishap::StitchDoubled, 1, None)),
        6 => standing.middle(|on, _| on == On::Space).map(|all| (Mishap::SpaceMissed, many(all.len()), None)),
        7 if below.is_none() && plain_row => {
            let on_chain = |(_, node): &(On, usize)| standing.graph.nodes[*node].what == What::Base;
            (way == Way::Rows && standing.alone.keys().all(on_chain)).then_some((Mishap::StartShort, -1, None))
        }
        8 if plain_row => Some((Mishap::StitchDoubled, 1, None)),
        9 => {
            let runs = standing.runs();
            Some((Mishap::ChainMissed, -1, Some(Kind::Space(*runs.get(runs.len() / 2)?))))
        }
        _ => None,
    }
}

const SORTS: usize = 10;

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
        let Some((slip, by, kind)) = found else { continue };
        // Every third is only seen one or two rows later, where these are plain.
        let later = if (turn + at).is_multiple_of(3) { 1 + (turn + at) % 2 } else { 0 };
        let plain = |at: usize| rows.get(at).is_some_and(|row| Standing::of(&whole, row).is_plain());
        let later = if (1..=later).all(|later| plain(at + later)) { later } else { 0 };
        made.push((Made { slip, row: at, by, kind: kind.filter(|_| later == 0) }, at + later));
    }
    made
}

/// How many slips were made and how many of them are among the first three that are told, by their sort.
#[derive(Default)]
struct Shares(BTreeMap<Mishap, (usize, usize)>);

impl Shares {
    /// Asks for a slip, by the bare count or by the one of its kind.
    fn ask(&mut self, compiled: &Compiled, piece: usize, (made, counted): (Made, usize), kind: Option<Kind>) {
        let rows = &compiled.fabric.pieces[piece].sizes[0].rows;
        let ledger = &rows[counted].ledger;
        let chains = if compiled.pattern.counts_chains { ledger.chains } else { 0 };
        let should = match kind {
            None => Some(ledger.stitches + chains),
            Some(kind) => ledger.made.iter().find(|tally| tally.kind == kind).map(|tally| tally.count),
        };
        let asked = |mine| Asked { piece, row: rows[counted].number, size: 0, mine, kind };
        let Some(should) = should else { return };
        // A number that is given to another row in some size is not one to ask by, and a kind that is counted with others is another.
        if ask(compiled, &asked(should)) != Err(NoAnswer::AsItShouldBe) {
            return;
        }
        let Ok(mine) = u32::try_from(i64::from(should) + made.by) else { return };
        let wanted = rows[made.row].number;
        let likely = ask(compiled, &asked(mine)).unwrap_or_default();
        let found = likely.iter().take(3).any(|one| one.slip == made.slip && one.rows.contains(&wanted));
        let (all, hits) = self.0.entry(made.slip).or_default();
        (*all, *hits) = (*all + 1, *hits + usize::from(found));
    }

    #[expect(clippy::print_stdout, reason = "the share is what is looked for")]
    fn hold(self, what: &str, at_least: usize) {
        let (all, hits) = self.0.values().fold((0, 0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
        println!(
            "{what}: {hits} of {all} slips are among the first three: {}%\n{:#?}",
            hits * 100 / all.max(1),
            self.0
        );
        assert!(all > at_least, "{all} slips were made");
        assert!(hits * 100 >= 85 * all, "{hits} of {all}");
        // No sort that is made often is much worse than all together.
        for (slip, (all, hits)) in self.0.into_iter().filter(|(_, (all, _))| *all > 20) {
            assert!(hits * 100 >= 85 * all, "{slip:?}: {hits} of {all}");
        }
    }
}

#[test]
fn slips_in_the_work_are_among_the_first_that_are_told() {
    let folders = ["samples", "tests/print"].map(|folder| fs::read_dir(folder).unwrap());
    let paths = folders.into_iter().flatten().map(|entry| entry.unwrap().path());
    let mut paths: Vec<_> = paths.filter(|path| path.extension().is_some_and(|ending| ending == "rnd")).collect();
    paths.sort();
    let (mut bare, mut by_kind) = (Shares::default(), Shares::default());
    for (file, path) in paths.iter().enumerate() {
        let compiled = compile(&fs::read_to_string(path).unwrap());
        for piece in 0..compiled.pattern.pieces.len() {
            for slip in slips(&compiled, piece, file + 3 * piece) {
                // A chain that is left out changes no count of stitches.
                if slip.0.slip != Mishap::ChainMissed {
                    bare.ask(&compiled, piece, slip, None);
                }
                if slip.0.kind.is_some() && ledger_kinds(&compiled, piece, slip.1) > 1 {
                    by_kind.ask(&compiled, piece, slip, slip.0.kind);
                }
            }
        }
    }
    bare.hold("by the bare count", 500);
    by_kind.hold("by the count of a kind", 100);
}

fn ledger_kinds(compiled: &Compiled, piece: usize, row: usize) -> usize {
    compiled.fabric.pieces[piece].sizes[0].rows[row].ledger.made.len()
}

#[test]
fn what_is_told_says_how_to_see_it_and_how_to_go_on() {
    let text = "pattern Ball\nterms US\n\npiece Ball, in a spiral\nstart ring\nrnd 1: 6 sc in ring = 6\nrnd 2: inc 6 = 12\n\
        rnd 3: [sc, inc] to end = 18\nrnds 4-6: sc to end = 18\n";
    let compiled = compile(text);
    let told = |row, mine| ask(&compiled, &Asked { piece: 0, row, size: 0, mine, kind: None });
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
    assert_eq!(ask(&faulty, &Asked { piece: 0, row: 3, size: 0, mine: 17, kind: None }), Err(NoAnswer::Faulty));
}
