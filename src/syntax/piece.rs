//! Piece lines, what is set for a piece, where it starts and how it ends.

#![expect(clippy::wildcard_enum_match_arm, reason = "of the rules of a whole grammar, few can stand in one place")]

use crate::diagnostic::{Diagnostic, Fix, Span};

use super::codes;
use super::grammar::{Node, Rule};
use super::reader::{Reader, unexpected};
use super::tree::{
    Ending, LayoutLine, LineKind, LoopOnly, Now, Number, PartOf, PieceLine, Rim, RimFrom, SeamSide, Setting, Side,
    Start, Surface, Text, Trim, TrimKind, Way,
};

impl Reader<'_> {
    /// `piece …`.
    pub fn piece_line(&mut self, rest: Span) -> Option<LineKind> {
        self.way = None;
        let node = self.read_or_stop(Rule::piece_line, rest)?;
        let name = self.child_text(&node, Rule::piece_name)?;
        let mut piece = PieceLine {
            name,
            way: None,
            copies: None,
            mirror: None,
            like: None,
            turned: None,
            flat: None,
            layout: None,
            turning_lead: None,
        };
        if let Some(slip) = node.child(Rule::way_only_slip) {
            piece.way = slip.child(Rule::way).and_then(|way| way.first()).and_then(|way| way_of(way.rule()));
            let gap = self.trim_end(0, slip.span().start);
            self.respell(codes::SPELLING, "a comma stands after the name of a piece", Span::new(gap, gap), ",");
        }
        let mut said: Vec<(u8, Span)> = Vec::new();
        for part in node.all(Rule::piece_part).filter_map(|part| part.first()) {
            let what = what_it_says(part.rule());
            match said.iter().find(|(other, _)| *other == what && what > 0) {
                Some((_, first)) => self.said_twice(*first, part.span()),
                None => said.push((what, part.span())),
            }
            self.piece_part(&part, &mut piece);
        }
        self.way = piece.way;
        Some(LineKind::Piece(piece))
    }

    fn said_twice(&mut self, first: Span, again: Span) {
        let (one, other) = (self.slice(first).to_owned(), self.slice(again).to_owned());
        let found = Diagnostic::error(
            codes::TWO_READINGS,
            format!("`{one}` and `{other}`: only one of them can hold"),
            again,
            "which of the two?",
        )
        .with_other(first, "said here already")
        .with_help("take one of them away");
        self.find(found);
    }

    fn piece_part(&mut self, part: &Node<'_>, piece: &mut PieceLine) {
        if part.rule() == Rule::copies {
            piece.copies = self.child_number(part);
        } else if part.rule() == Rule::mirror {
            piece.mirror = self.child_text(part, Rule::mirror_name);
        } else if part.rule() == Rule::like {
            let to = part.child(Rule::amount).and_then(|amount| self.amount(&amount));
            piece.like = self.child_text(part, Rule::like_name).map(|name| (name, to));
        } else if part.rule() == Rule::turned {
            piece.turned = Some(part.span());
        } else if part.rule() == Rule::lies_flat {
            piece.flat = Some(part.span());
        } else if is_of_layout(part.rule()) {
            self.layout_part(part, piece);
        } else if part.rule() == Rule::way_word_slip {
            piece.way = Some(self.way_word(part));
        } else if part.rule() == Rule::way_slip {
            self.rounds_of_which_sort(part.span());
            piece.way = Some(Way::JoinedRounds);
        } else {
            piece.way = part.first().and_then(|way| way_of(way.rule()));
        }
    }

    /// `in a layout of 5 x 4`, `joined in ch-1 sp`, `sewn`, `corners in ch-3 sp`.
    fn layout_part(&mut self, part: &Node<'_>, piece: &mut PieceLine) {
        let mut layout = piece.layout.take().unwrap_or(LayoutLine {
            span: None,
            across: None,
            down: None,
            joined: None,
            corners: None,
        });
        let chains = part.child(Rule::space).and_then(|space| self.child_number(&space));
        match part.rule() {
            Rule::layout => {
                layout.span = Some(part.span());
                let numbers: Vec<_> = part.all(Rule::number).map(|number| self.number(&number)).collect();
                let mut numbers = numbers.into_iter();
                (layout.across, layout.down) = (numbers.next().flatten(), numbers.next().flatten());
            }
            Rule::layout_joined => layout.joined = chains,
            Rule::layout_corners => layout.corners = chains,
            _ => {}
        }
        piece.layout = Some(layout);
    }

    /// `joined rounds`, `in spiral`, `rows`.
    fn way_word(&mut self, node: &Node<'_>) -> Way {
        let (way, better) = match (node.has(Rule::k_joined), node.has(Rule::k_row)) {
            (true, _) => (Way::JoinedRounds, "in joined rounds"),
            (_, true) => (Way::Rows, "in rows"),
            (false, false) => (Way::Spiral, "in a spiral"),
        };
        self.respell(codes::SPELLING, "how a piece is worked has a form of its own", node.span(), better);
        way
    }

    fn rounds_of_which_sort(&mut self, span: Span) {
        let found = Diagnostic::error(codes::TWO_READINGS, "rounds are joined or go on", span, "which of the two?")
            .with_fix(Fix::change("each closed with a slip stitch: `in joined rounds`", span, "in joined rounds"))
            .with_fix(Fix::change("on and on without a join: `in a spiral`", span, "in a spiral"));
        self.find(found);
    }

    /// `with`, `using`, `lead`, `stripe`.
    pub fn setting(&mut self, rule: Rule, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(rule, rest)?;
        self.yarn_word(&node);
        let setting = if rule == Rule::with_line {
            Setting::With(self.child_text(&node, Rule::yarn_name)?)
        } else if rule == Rule::using_line {
            Setting::Using(self.child_text(&node, Rule::word)?)
        } else if rule == Rule::lead_line {
            Setting::Lead(self.lead_body(&node.child(Rule::lead_body)?)?)
        } else {
            let stripes: Vec<_> = node.all(Rule::stripe).map(|stripe| self.stripe(&stripe)).collect();
            Setting::Stripe(stripes.into_iter().collect::<Option<_>>()?)
        };
        Some(LineKind::Setting(setting))
    }

    /// `now in rows, lead ch 1`.
    pub fn now_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::now_line, rest)?;
        let way = match node.child(Rule::way_slip) {
            Some(slip) => {
                self.rounds_of_which_sort(slip.span());
                Way::JoinedRounds
            }
            None => node.child(Rule::way).and_then(|way| way.first()).and_then(|way| way_of(way.rule()))?,
        };
        let mut now = Now { way, turned: None, lead: None, without_turning: None };
        for part in node.all(Rule::now_part).filter_map(|part| part.first()) {
            match part.rule() {
                Rule::turned => now.turned = Some(part.span()),
                Rule::now_lead => now.lead = Some((self.lead_body(&part.child(Rule::lead_body)?)?, part.span())),
                Rule::without_turning => now.without_turning = Some(part.span()),
                Rule::now_print_slip => {
                    let message = "that the work isn't turned has a form of its own";
                    self.respell(codes::SPELLING, message, part.span(), "without turning");
                    now.without_turning = Some(part.span());
                }
                other => return unexpected(other),
            }
        }
        self.way = Some(way);
        Some(LineKind::Setting(Setting::Now(now)))
    }

    fn stripe(&mut self, node: &Node<'_>) -> Option<(Text, Number)> {
        Some((self.child_text(node, Rule::yarn_name)?, self.child_number(node)?))
    }

    /// `start …`.
    pub fn start_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::start_line, rest)?.first()?;
        let start = match node.rule() {
            Rule::start_ring => {
                self.ring_word(&node);
                Start::Ring
            }
            Rule::start_chain => self.start_chain(&node)?,
            Rule::start_foundation => {
                Start::Foundation { count: self.child_amount(&node)?, stitch: self.child_stitch(&node)? }
            }
            Rule::start_along => self.start_along(&node)?,
            Rule::start_thing => self.start_thing(&node)?,
            Rule::start_again => {
                let along = node.child(Rule::start_along)?;
                Start::Again(Box::new(self.start_along(&along)?))
            }
            other => return unexpected(other),
        };
        Some(LineKind::Start(start))
    }

    /// Along one or several edges of pieces that are there, or through two layers of them.
    fn start_along(&mut self, node: &Node<'_>) -> Option<Start> {
        if let Some(through) = node.child(Rule::start_through) {
            let layers: Vec<_> = through.all(Rule::start_layer).map(|layer| self.start_along(&layer)).collect();
            let mut layers = layers.into_iter();
            let (one, other) = (layers.next()??, layers.next()??);
            return Some(Start::Through(Box::new(one), Box::new(other)));
        }
        let parts: Vec<_> = node.children().filter(|n| n.rule() != Rule::plus).collect();
        let parts: Option<Vec<_>> = parts.iter().map(|part| self.start_part(part)).collect();
        let mut parts = parts?;
        if parts.len() == 1 { parts.pop() } else { Some(Start::Several(parts)) }
    }

    fn start_part(&mut self, part: &Node<'_>) -> Option<Start> {
        match part.rule() {
            Rule::part_of | Rule::inner_part => {
                let which = match (part.has(Rule::k_first), part.has(Rule::k_last)) {
                    (true, _) => PartOf::First,
                    (_, true) => PartOf::Last,
                    (false, false) => PartOf::Middle,
                };
                let edge = part.children().last()?;
                return Some(Start::Part(which, self.child_amount(part)?, Box::new(self.start_part(&edge)?)));
            }
            Rule::rest_part => return Some(Start::Rest(Box::new(self.start_part(&part.children().last()?)?))),
            Rule::new_chain => return self.start_chain(part),
            _ => {}
        }
        let name = self.child_text(part, Rule::start_name)?;
        match part.rule() {
            Rule::start_edge => Some(Start::Edge(name)),
            Rule::start_side => Some(Start::Side(if part.has(Rule::k_left) { Side::Left } else { Side::Right }, name)),
            Rule::start_other => Some(Start::OtherSide(name)),
            Rule::start_top => Some(Start::Top(name)),
            Rule::start_around => self.start_around(part, name),
            Rule::start_held => Some(Start::Opening(name, Rim::Stitches)),
            Rule::start_bridge => Some(Start::Opening(name, Rim::Chain)),
            Rule::start_loops => {
                let loops = if part.has(Rule::front_word) { LoopOnly::Front } else { LoopOnly::Back };
                Some(Start::Loops { loops, number: self.child_number(part)?, name })
            }
            other => unexpected(other),
        }
    }

    /// All the way round a piece, or round an opening of it.
    fn start_around(&mut self, node: &Node<'_>, name: Text) -> Option<Start> {
        let (from, corners) = (node.child(Rule::rim_from), node.child(Rule::rim_corners));
        if from.is_none() && corners.is_none() {
            return Some(Start::Around(name));
        }
        let from = match from {
            Some(from) if from.has(Rule::rim_middle) => RimFrom::MiddleOfChain,
            Some(from) if from.has(Rule::k_chain) || from.has(Rule::k_ch) => RimFrom::Chain,
            Some(_) | None => RimFrom::Stitches,
        };
        let corners = match corners {
            Some(corners) => Some(self.child_amount(&corners)?),
            None => None,
        };
        Some(Start::Opening(name, Rim::Around { from, corners }))
    }

    /// `60 places on the hem`, `on a curtain ring`.
    fn start_thing(&mut self, node: &Node<'_>) -> Option<Start> {
        let places = match node.child(Rule::amount) {
            Some(amount) => Some(self.amount(&amount)?),
            None => None,
        };
        Some(Start::Thing { places, name: self.child_text(node, Rule::thing_name)? })
    }

    fn start_chain(&mut self, node: &Node<'_>) -> Option<Start> {
        let joined = node.has(Rule::k_joined);
        self.chain_word(node);
        let chains = match node.child(Rule::tight_chain) {
            Some(tight) => self.tight_chain(&tight)?,
            None => self.child_amount(node)?,
        };
        Some(Start::Chain { chains, joined })
    }

    /// `fasten off`, `gather`, `seam`, `sew`, `change to`.
    pub fn ending(&mut self, rule: Rule, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(rule, rest)?;
        self.yarn_word(&node);
        if let Some(slip) = node.child(Rule::to_slip) {
            self.respell(codes::SPELLING, "the sides of a seam are joined by `to`", slip.span(), "to");
        }
        let ending = if rule == Rule::fasten_line {
            self.strays(&node, rest);
            Ending::FastenOff
        } else if rule == Rule::gather_line {
            Ending::Gather(match node.child(Rule::amount) {
                Some(amount) => Some(self.amount(&amount)?),
                None => None,
            })
        } else if let Some(edges) = node.child(Rule::seam_edges) {
            self.seam_edges(&edges)?
        } else if rule == Rule::seam_line {
            let mut sides = node.all(Rule::seam_side);
            Ending::Seam(self.seam_side(&sides.next()?)?, self.seam_side(&sides.next()?)?)
        } else if rule == Rule::sew_line {
            self.sew(&node)?
        } else {
            Ending::ChangeTo(self.child_text(&node, Rule::yarn_name)?)
        };
        Some(LineKind::Ending(ending))
    }

    /// `surface 24 sl st along rnd 12 of Body from st 3 in B`.
    pub fn surface_line(&mut self, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(Rule::surface_line, rest)?;
        let from = match node.child(Rule::surface_from) {
            Some(from) => Some(self.child_amount(&from)?),
            None => None,
        };
        let yarn = node.child(Rule::in_yarn).and_then(|named| {
            self.yarn_word(&named);
            self.child_text(&named, Rule::yarn_name)
        });
        Some(LineKind::Ending(Ending::Surface(Surface {
            amount: self.child_amount(&node)?,
            stitch: self.child_stitch(&node)?,
            round: node.has(Rule::k_rnd),
            row: self.child_number(&node)?,
            on: self.child_text(&node, Rule::surface_on),
            from,
            yarn,
        })))
    }

    /// `pompon 120 wraps round 8 cm`, `fringe 40 strands of 30 cm`, `cord 60 cm of ch`.
    pub fn trim_line(&mut self, rule: Rule, rest: Span) -> Option<LineKind> {
        let node = self.read_or_stop(rule, rest)?;
        let what = if rule == Rule::pompon_line {
            TrimKind::Pompon { wraps: self.child_amount(&node)? }
        } else if rule == Rule::fringe_line {
            TrimKind::Fringe { strands: self.child_amount(&node)? }
        } else {
            let stitch = match self.child_text(&node, Rule::cord_chain) {
                Some(chain) => Text { text: "ch".to_owned(), ..chain },
                None => self.child_stitch(&node)?,
            };
            TrimKind::Cord { stitch }
        };
        let lengths = self.lengths(&node)?;
        let mut unit = self.child_text(&node, Rule::length_unit)?;
        unit.text.make_ascii_lowercase();
        let yarn = node.child(Rule::in_yarn).and_then(|named| {
            self.yarn_word(&named);
            self.child_text(&named, Rule::yarn_name)
        });
        Some(LineKind::Ending(Ending::Trim(Trim { what, lengths, unit, yarn })))
    }

    /// Two edges by their names.
    fn seam_edges(&mut self, node: &Node<'_>) -> Option<Ending> {
        let sides: Vec<_> = node.all(Rule::start_layer).map(|side| self.start_along(&side)).collect();
        let mut sides = sides.into_iter();
        let (one, other) = (sides.next()??, sides.next()??);
        let easing = match node.child(Rule::easing) {
            Some(easing) => Some(self.child_amount(&easing)?),
            None => None,
        };
        Some(Ending::SeamEdges { one, other, easing })
    }

    fn seam_side(&mut self, node: &Node<'_>) -> Option<SeamSide> {
        let side = node.first()?;
        match side.rule() {
            Rule::seam_row => Some(SeamSide::Row(self.child_amount(&side)?)),
            Rule::seam_first => Some(SeamSide::First(self.child_amount(&side)?)),
            Rule::seam_last => Some(SeamSide::Last(self.child_amount(&side)?)),
            Rule::seam_start => Some(SeamSide::Start),
            other => unexpected(other),
        }
    }

    fn sew(&mut self, node: &Node<'_>) -> Option<Ending> {
        let mut names = node.all(Rule::sewn_name);
        let piece = self.node_text(&names.next()?);
        let to = self.node_text(&names.next()?);
        let over = match node.child(Rule::amount) {
            Some(amount) => Some(self.amount(&amount)?),
            None => None,
        };
        Some(Ending::Sew { piece, to, over })
    }
}

fn is_of_layout(rule: Rule) -> bool {
    matches!(rule, Rule::layout | Rule::layout_joined | Rule::layout_sewn | Rule::layout_corners)
}

fn way_of(rule: Rule) -> Option<Way> {
    match rule {
        Rule::in_rows => Some(Way::Rows),
        Rule::from_one_side => Some(Way::RowsFromOneSide),
        Rule::in_tunisian_rows => Some(Way::TunisianRows),
        Rule::in_joined_rounds => Some(Way::JoinedRounds),
        Rule::in_a_spiral => Some(Way::Spiral),
        other => unexpected(other),
    }
}

/// Parts of a piece line of which only one can hold have the same number; the others have none.
const fn what_it_says(rule: Rule) -> u8 {
    match rule {
        Rule::copies => 1,
        Rule::mirror | Rule::like => 2,
        Rule::way | Rule::way_word_slip | Rule::way_slip => 3,
        Rule::layout => 4,
        Rule::layout_joined => 5,
        Rule::layout_corners => 6,
        _ => 0,
    }
}
