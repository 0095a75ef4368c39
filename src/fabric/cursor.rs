//! Where the hand is: small, and copied whenever something is only tried.

use super::edge::Edge;
use super::grows::Growing;
use super::ledger::LeadWorked;
use super::tape::How;
use crate::diagnostic::Span;
use crate::pattern::model::Kind;
use crate::stitch::StitchId;

/// Where the hand is. Together with the lengths of its record this is all that a line knows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Cursor {
    /// The next place that nothing has been worked into.
    pub at: usize,
    /// Where a step must stop: the end of the edge, or nearer inside a repeat.
    pub limit: usize,
    /// Where the last stitch went.
    pub here: Option<Here>,
    /// What the next stitch stands on begins at this foot.
    pub feet_from: u32,
    /// A stitch was made there already.
    pub stood: bool,
    /// The hook stands in the first so many slots without having worked there.
    pub standing: usize,
    /// Those slots are a space.
    pub standing_in_space: bool,
    /// The line names spaces to work into, so that slip stitches into one lead to the whole of it.
    pub names_spaces: bool,
    /// Slip stitches have led into the middle of a space, so that the next one is another.
    pub moved_half: bool,
    /// A chain of a space was worked into, which ends before this slot; what is left of it goes with that chain.
    pub space_till: usize,
    /// Yarn has been joined in those slots when so much was made, so that the next stitch goes there.
    pub joined_there: Option<usize>,
    /// The last so many slots are where the round began; nothing was worked there as it began.
    pub began_in: usize,
    /// Places that have been laid on the new edge, each chain for itself.
    pub laid: usize,
    /// The last so many of them are a run of chains.
    pub run: u32,
    /// Stitches among them that are no lead.
    pub stitches: usize,
    /// The number that what is made next has in a graph.
    pub node: u32,
    /// Stitches that count besides those on the edge.
    pub groups: usize,
    pub account: Account,
    /// How many groups in one place we are inside.
    pub in_place: u32,
    /// Places without end, so that a line can be followed past its fault.
    pub ghost: bool,
    /// A bare skip ended inside a space: before which slot, the step and the length.
    pub cut: Option<(usize, Span, u32)>,
    /// Chains made in this line that a strip is being worked along: so many are still ahead.
    pub side: u32,
    /// The first of the chains of such a strip, by its number in a graph.
    pub strip_from: u32,
    /// Such a strip has been begun, so that its last stitch belongs to it too.
    pub strip: bool,
    /// One past the last place that was worked into as the line went along.
    pub after_worked: usize,
    /// Places before the next one that were worked into one after the other without a name.
    pub along: usize,
    /// The most of them that the line has come to.
    pub most_along: usize,
    /// Stitches that it went past before its first place, which a step names: the step, how many, and the place.
    pub begun_past: Option<(Span, u32, Kind)>,
    /// A kind of place was skipped since then.
    pub skipped_kind: bool,
    /// What was skipped last and has not been gone back to: the first slot, and one past the last.
    pub skipped: (usize, usize),
    /// That was a space, as a whole.
    pub skipped_space: bool,
    /// Places of an edge with two ends that the hook went by on the way to where the line begins.
    pub gone_by: usize,
    /// Stitches in the place where the hook is.
    pub in_last_place: u32,
    /// A stitch that stands on nothing goes on from there.
    pub bridged: bool,
    /// Where the hook was before it went into what was just made.
    pub hung_from: Option<Here>,
    /// The stitch that the line made last, if its top is on the new edge.
    pub top: Option<Topmost>,
    /// The one that got a name last, with its number.
    pub marked_top: Option<(u16, Topmost)>,
    /// Whether what was run past at the end is what the line leaves between the places it names.
    pub passes_rest: bool,
    /// The most stitches between two places that the line went to by their names, and the most of those that do not lie before
    /// its first place.
    pub widest_gap: usize,
    pub widest_further_on: usize,
    /// A repeat to the end found no more of the places it names.
    pub rest_done: bool,
    /// Places taken, skipped ones included; a repeat that takes none never ends.
    pub taken: u64,
    /// The loop and the depth that stitches are worked in.
    pub how: How,
    /// The chain that the line started with.
    pub lead: LeadWorked,
    /// The last of its chains, by its number in a graph.
    pub lead_node: u32,
    /// It does not count, and can be worked into from the line above.
    pub plain_lead: bool,
    /// Nothing has been worked yet into the starting chain that the line goes along.
    pub from_hook: bool,
    /// The line was begun along a starting chain, which holds its lead.
    pub on_chain: bool,
    /// Chains skipped at the start of a starting chain.
    pub hook_skip: Option<usize>,
    /// Places by which the line is longer at its beginning than the row below: chains that it goes back along.
    pub widened: u32,
    /// So many of them stand up as the lead; the others lie along the edge. Nothing where the line does not say.
    pub stand_up: Option<usize>,
    /// More is worked in the place of the lead: where a space comes first, it stands there and not in one of its chains.
    pub lead_in_space: bool,
    /// The line stopped here: turned short, or left the rest.
    pub ended: Option<Ended>,
    pub closed: bool,
    /// Slip stitches go on into the stitches of this very round, which lie from this slot on.
    pub evened: Option<usize>,
    /// The corner of the starting chain is turned: the line goes along its other side.
    pub went_round: bool,
    /// The work is turned when the round is joined.
    pub turned: bool,
    /// What the first place of a starting chain was stood on as, and the slot: the place where the other side ends.
    pub hook_foot: Option<u32>,
    /// The last place of the other side is where the line began with several stitches, so that it may be left.
    pub corner_last: bool,
    /// Yarn was joined in a place of a round that looks the same from every place of its kind: how many turns to the next one bring it
    /// round.
    pub joined_anywhere: u32,
    /// That a bare step goes into a chain and not into its space is said already.
    pub quiet: bool,
    pub depth: u32,
    /// Rows of the small piece that is being worked within the line; 0 outside of one.
    pub fro: u32,
    /// A row of it begins: nothing has been worked since it was turned.
    pub row_begins: bool,
    /// How many limits there were around it.
    pub fro_within: u32,
    /// How many nearer limits than the end of the edge we are inside, as of repeats that go as far as somewhere.
    pub repeats: u32,
    /// Places so far in which the maker could have done the thing otherwise that she does so in one of them.
    pub chances: u32,
    /// What the line takes more of on a longer edge.
    pub growing: Growing,
}

/// A place that the hook is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Here {
    /// This slot.
    Slot(usize),
    /// The space that begins at this slot.
    Space(usize),
    Ring,
    /// Between two places, the first of them this slot.
    Gap(usize),
    /// A chain of those just made in this line, counted from its first.
    Made(u32),
    /// On top of a stitch that was just made in this line.
    Top(Topmost),
    /// The top of a chain that does not count.
    Lead,
    /// A place that isn't there, after a fault.
    Ghost,
}

/// A stitch that this line has made.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Topmost {
    pub stitch: StitchId,
    /// Its place on the new edge, in the order of making.
    pub laid: u32,
    /// Its number in a graph.
    pub node: u32,
}

impl Here {
    /// Whether this was made in this line: a chain, or the top of a stitch.
    pub(super) fn is_made(self) -> bool {
        matches!(self, Self::Made(_) | Self::Top(_))
    }
}

/// How a line ended before its end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Ended {
    /// Turned; what is left waits.
    Turned,
    /// What is left stays unworked.
    Left,
}

/// Places used so far; see [`super::Ledger`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Account {
    pub worked: u32,
    pub skipped: u32,
    pub passed: u32,
    pub left: u32,
    /// Places that were there; cutting a space into its chains makes more of them.
    pub offered: u32,
}

impl Cursor {
    /// At the beginning of an edge.
    #[expect(clippy::too_many_lines, reason = "one line for each field")]
    pub(super) fn at_the_beginning(edge: &Edge, first_node: u32) -> Self {
        let standing = if edge.hook_in_first { edge.first_space() } else { 0 };
        Self {
            at: 0,
            limit: edge.slots.len(),
            here: None,
            feet_from: 0,
            stood: false,
            standing,
            standing_in_space: standing > 0,
            names_spaces: false,
            moved_half: false,
            space_till: 0,
            joined_there: None,
            began_in: 0,
            laid: 0,
            run: 0,
            stitches: 0,
            node: first_node,
            groups: 0,
            account: Account { offered: offered(edge), ..Account::default() },
            in_place: 0,
            ghost: false,
            cut: None,
            side: 0,
            strip: false,
            strip_from: 0,
            after_worked: 0,
            along: 0,
            most_along: 0,
            begun_past: None,
            skipped_kind: false,
            skipped: (0, 0),
            skipped_space: false,
            in_last_place: 0,
            bridged: false,
            hung_from: None,
            top: None,
            marked_top: None,
            passes_rest: false,
            widest_gap: 0,
            widest_further_on: 0,
            rest_done: false,
            taken: 0,
            how: How::default(),
            lead: LeadWorked::None,
            lead_node: 0,
            plain_lead: false,
            from_hook: edge.from_hook,
            on_chain: edge.from_hook,
            hook_skip: None,
            widened: 0,
            stand_up: None,
            lead_in_space: false,
            ended: None,
            closed: false,
            evened: None,
            went_round: false,
            turned: false,
            hook_foot: None,
            corner_last: false,
            joined_anywhere: 0,
            gone_by: 0,
            quiet: false,
            depth: 0,
            fro: 0,
            row_begins: false,
            fro_within: 0,
            repeats: 0,
            chances: 0,
            growing: Growing::default(),
        }
    }
}

/// Places that an edge offers; a ring with nothing in it is one.
fn offered(edge: &Edge) -> u32 {
    edge.places().max(u32::from(edge.ring && edge.slots.is_empty()))
}
