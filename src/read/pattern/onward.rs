//! Where the work goes on that stands above: in the same piece below a heading, along the edge of the piece before, and for all sizes
//! again below lines that are for some of them.

use ringtrue_grammar::prose::Rule;

use super::{Block, Kind, Reader, copies, edges, is_start, label, line_of, parsed};
use crate::read::label::Label;
use crate::read::lexicon::Token;
use crate::read::lexicon::is_amount;
use crate::read::sizes;
use crate::read::told::named_for;

/// So many parts of the text may stand between a heading and the rows below it.
const NEAR: usize = 4;

impl Reader<'_> {
    /// Whether the rows below a heading go on with the piece above it, as `Crown` does with the sides of a hat: nothing there says what
    /// another piece would begin with, and the yarn has not been cut.
    pub(super) fn goes_on_below(&mut self, heading: &str, below: &[Block]) -> bool {
        let Some(last) = self.piece.written.last().map(|last| last.round) else { return false };
        // A thumb begins in the opening that was left for it.
        let left = |written: &crate::read::piece::Written| {
            let openings = written.steps.split("set aside ").skip(1).filter_map(|step| step.split_once(" as "));
            openings
                .into_iter()
                .any(|(_, name)| named_for(heading, name.split([',', ']']).next().unwrap_or(name).trim()))
        };
        if self.piece.written.iter().any(left) {
            return false;
        }
        let worked = self.piece.lines.iter().rev().find(|line| !line.starts_with(['#', '>']));
        let cut = worked.map_or(self.piece.like.is_none(), |line| line == "fasten off" || line.starts_with("gather"));
        // What begins on an edge that it names is a piece.
        let beside = |block: &Block| {
            self.rejoined(&block.text).is_some()
                && parsed(Rule::start, &line_of(&self.lexicon.read(&block.text))).is_none()
        };
        if cut && below.iter().take(NEAR).any(beside) && self.after.is_none() {
            let first = below.iter().take(NEAR + 1).find_map(|block| {
                let label = label(&self.lexicon.read(&block.text))?;
                label.spans.first().copied().flatten().map(|(from, _)| from)
            });
            return self.counted_on(first);
        }
        if cut
            || self.piece.start.is_none() && self.piece.like.is_none()
            || self.after.is_some()
            || copies(heading).1.is_some()
        {
            return false;
        }
        for block in below.iter().take(NEAR) {
            let tokens = self.lexicon.read(&block.text);
            let words = line_of(&tokens);
            let straight =
                ["work even", "work straight", "continue even"].iter().any(|begins| words.starts_with(begins));
            if let Some(label) = label(&tokens) {
                return self.goes_on_at(&label, &words, last);
            }
            if straight {
                return true;
            }
            if is_start(&tokens)
                || matches!(block.kind, Kind::Heading(_))
                || words.starts_with("as ")
                || words.starts_with("join")
            {
                return false;
            }
        }
        false
    }

    /// Whether the row with this label goes on with the piece; `last` is whether that ends with a round.
    fn goes_on_at(&mut self, label: &Label, words: &str, last: bool) -> bool {
        let begins = ["ring", "from hook", "join", "rejoin", "attach", "rowend", "end of each row"];
        let anew = begins.iter().any(|word| {
            format!(" {words} ")
                .split(" , join")
                .next()
                .unwrap_or_default()
                .split(" . join .")
                .next()
                .unwrap_or_default()
                .contains(&format!(" {word} "))
        });
        let first = label.spans.first().copied().flatten().map(|(from, _)| from);
        if anew || label.set_up {
            return false;
        }
        if label.round != last && !label.short {
            // A heel, a flap or a sole goes on to and fro over a part of the last round.
            let whole = ["across", "to end", "each st", "around"].iter().any(|said| words.contains(said));
            if !last || first != Some(1) || whole {
                return false;
            }
            self.piece.goes_on("in rows", "");
            self.piece.flat = true;
        }
        // Rows are counted on from as many as there are in each size.
        let sizes = self.head.sizes.len().max(1);
        if first == Some(1) {
            let last: Vec<u32> = (0..sizes).map(|size| self.piece.last_number(size)).collect();
            self.piece.shift = last.first().copied().unwrap_or(0);
            let alike = last.iter().all(|other| Some(other) == last.first());
            self.piece.shifts = if alike { Vec::new() } else { last };
        }
        first.is_none_or(|first| first == 1 || first == self.piece.last_number(0).saturating_add(1))
    }

    /// Rows below a part that is done are counted on, by the number that the first of them has.
    pub(super) fn counted_on(&mut self, first: Option<u32>) -> bool {
        let Some(first) = first.filter(|first| *first > 0) else { return false };
        let sizes = self.head.sizes.len().max(1);
        let by: Vec<u32> = (0..sizes).map(|size| (self.piece.last_number(size) + 1).saturating_sub(first)).collect();
        self.piece.shift = by.first().copied().unwrap_or(0);
        let alike = by.iter().all(|other| Some(other) == by.first());
        self.piece.shifts = if alike { Vec::new() } else { by };
        true
    }

    /// `Skip centre 7 sts of Row 26, rejoin yarn in next st.`: the steps with which the next row begins.
    pub(super) fn rejoined(&self, text: &str) -> Option<Vec<String>> {
        let tokens = self.lexicon.read(text);
        let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
        // A stitch that is named as a place is not worked.
        let named = |at: usize| {
            at.checked_sub(1)
                .is_some_and(|before| is_amount(word(before)) || matches!(word(before), "next" | "first" | "last"))
        };
        let works = (0..tokens.len()).any(|at| {
            word(at).starts_with('~') && word(at) != "~sl_st" && !named(at)
                || word(at) == "ch" && is_amount(word(at + 1))
        });
        let skip = (0..tokens.len()).find(|at| word(*at) == "skip")?;
        let number = (skip + 1..skip + 4).find(|at| is_amount(word(*at)))?;
        let between =
            (skip + 1..number).all(|at| matches!(word(at), "next" | "first" | "center" | "middle" | "following"));
        let joins = (number..tokens.len()).any(|at| matches!(word(at), "join" | "rejoin" | "attach"));
        let kind = matches!(word(number + 1), "st" | "~sc" | "~dc" | "~hdc" | "~tr" | "~htr");
        (!works && between && joins && kind)
            .then(|| vec![format!("skip {}", word(number).replace('/', " / ")), "rejoin in next".to_owned()])
    }

    /// A chain or a ring below rows whose yarn is cut begins another piece, though no heading was known for one.
    pub(super) fn begun_anew(&mut self, words: &str) {
        let begins = parsed(Rule::start, words).and_then(|start| edges::start(start, &self.head.pieces).ok());
        let plain = begins.is_some_and(|begun| begun.start == "ring" || begun.start.starts_with("ch "));
        let first = words.starts_with("ch ") && words.contains("from hook");
        if self.is_cut() && (plain || first) {
            self.next_piece();
        }
    }

    /// Whether the yarn of the piece at hand is cut.
    pub(super) fn is_cut(&self) -> bool {
        let worked = self.piece.lines.iter().rev().find(|line| !line.starts_with(['#', '>']));
        !self.piece.written.is_empty()
            && worked.is_some_and(|line| line.ends_with("fasten off") || line.starts_with("gather"))
    }

    /// The next piece, by what stands right above it where that may be a name.
    pub(super) fn next_piece(&mut self) {
        const MOST_WORDS: usize = 5;
        let name = self.piece.lines.last().and_then(|line| line.strip_prefix("> ").or(line.strip_prefix("# ")));
        let name =
            name.filter(|name| name.split(' ').count() <= MOST_WORDS && !name.ends_with('.') && !name.contains('“'));
        let name = name.map(str::to_owned);
        if name.is_some() {
            self.piece.lines.pop();
        }
        let name = name.unwrap_or_else(|| format!("{} 2", self.piece.name));
        self.flush();
        self.begin(&name);
        if name.contains(['(', '[']) {
            self.remark(&name);
        }
    }

    /// Lines that were for some sizes are over where a list has a number for each of all sizes, or all sizes are named.
    pub(super) fn for_all_again(&mut self, text: &str) {
        if self.only_for.is_none() {
            return;
        }
        let sizes = self.head.sizes.len();
        self.lexicon.concerned = None;
        let all = |token: &crate::read::lexicon::Token| {
            let numbers: Vec<&str> = token.text.split('/').collect();
            numbers.len() == sizes && sizes > 1 && is_amount(&token.text) && !token.text.contains('–')
        };
        let listed = self.lexicon.read(text).iter().any(all);
        let lower = text.to_lowercase();
        if listed
            || lower.contains("all sizes")
            || lower.contains("both sizes")
            || sizes::chosen(text, &self.head.sizes).is_some()
        {
            self.only_for = None;
        }
    }

    /// `Ch 1, work 60 sc evenly around the brim, 1 in the end of each row`: the first round goes into the row ends of the piece before.
    pub(super) fn along_edge(&mut self, words: &str) -> Option<String> {
        let (before, _) = self.done.clone().filter(|(_, rows)| *rows)?;
        let ends = [
            "in end of each row",
            "in side of each row",
            "in each rowend",
            "in rowend",
            "around top of",
            "evenly around",
        ];
        ends.iter().any(|said| words.contains(said)).then_some(())?;
        let (mut told, mut stitches) = (Vec::new(), 0);
        for clause in words.split(" , ") {
            let all: Vec<&str> = clause.split(' ').collect();
            let own = all.iter().take_while(|word| **word != ".");
            let stitch = own.into_iter().find(|word| word.starts_with('~') && **word != "~sl_st");
            let along = ends.iter().any(|said| clause.contains(said));
            match (along, stitch) {
                (true, Some(stitch)) => {
                    stitches += 1;
                    let number = all.iter().find(|word| is_amount(word) && **word != "1");
                    let behind = clause.find(" . ").and_then(|at| clause.get(at..)).unwrap_or_default();
                    told.push(number.map_or_else(
                        || format!("{stitch} in each st around{behind}"),
                        |number| format!("{stitch} {number}{behind}"),
                    ));
                }
                // `1 in the end of each row`.
                (true, None) => told.extend(clause.split_once(" . ").map(|(_, rest)| rest.to_owned())),
                (false, _) => told.push(clause.to_owned()),
            }
        }
        (stitches == 1).then_some(())?;
        self.piece.start = Some(format!("edge of {before}"));
        self.chosen.push(format!(
            "read by choosing: the first stitches of {} go into the row ends of {before}",
            self.piece.name
        ));
        Some(told.join(" , "))
    }

    /// The opening that the piece at hand is called by, where it begins with nothing else: its name, and the piece that has it.
    fn opening_here(&self) -> Option<(String, String)> {
        let fits = |(opening, _): &(&String, &String)| named_for(&self.piece.name, opening);
        let free = self.piece.start.is_none() && self.piece.like.is_none() && self.piece.written.is_empty();
        self.openings.iter().filter(|_| free).find(fits).map(|(opening, piece)| (opening.clone(), piece.clone()))
    }

    /// `Rejoin yarn to the first missed stitch.` above the rounds of a thumb or a sleeve.
    pub(super) fn joined_in_opening(&mut self, tokens: &[Token]) -> bool {
        let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
        let joins = matches!(word(0), "join" | "rejoin" | "attach" | "with");
        let placed = |at: usize| {
            matches!(word(at + 1), "in" | "around" | "to" | "across")
                || at.checked_sub(1).is_some_and(|at| is_amount(word(at)))
        };
        let works = (0..tokens.len()).any(|at| {
            word(at).starts_with('~') && word(at) != "~sl_st" && placed(at)
                || word(at) == "ch" && is_amount(word(at + 1))
        });
        let Some((opening, piece)) = self.opening_here().filter(|_| joins && !works) else { return false };
        self.begin_in_opening(&opening, &piece, &line_of(tokens));
        true
    }

    fn begin_in_opening(&mut self, opening: &str, piece: &str, words: &str) {
        let middle = if words.contains("underarm") { " from middle of chain" } else { "" };
        self.piece.start = Some(format!("around {opening} of {piece}{middle}"));
        self.piece.in_opening = true;
        self.chosen
            .push(format!("read by choosing: {} begins in the opening for {opening} of {piece}", self.piece.name));
    }

    /// `Sc in each of the 6 skipped sts, sc in each of the 6 ch on the other side`: round an opening there is one stitch in each place.
    pub(super) fn in_opening(&mut self, words: &str) -> Option<String> {
        let begun = self.piece.in_opening && self.piece.written.is_empty();
        if self.piece.start.is_some() && !begun {
            return None;
        }
        if !begun {
            let (opening, piece) = self.opening_here()?;
            self.begin_in_opening(&opening, &piece, words);
        }
        let words = behind_join(words);
        let (mut stitch, mut kept, mut any): (Option<String>, Vec<String>, u32) = (None, Vec::new(), 0);
        let mut free = false;
        let (steps, behind) =
            words.find(" ( ").or_else(|| words.find(" [ ")).map_or((words, ""), |at| words.split_at(at));
        let parted = steps.replace(" . ", " , ");
        for clause in parted.split(" , ") {
            let clause = clause.trim_matches([' ', '.']);
            let all: Vec<&str> = clause.split(' ').collect();
            let own: Vec<&&str> = all.iter().filter(|word| word.starts_with('~')).collect();
            match own.as_slice() {
                // `8 sc evenly around the opening`.
                [one] if begun_evenly(&all, one) && any == 0 => {
                    kept.push(format!("{one} in each st around"));
                    stitch = Some((**one).to_owned());
                    (any, free) = (2, true);
                }
                [one, places @ ..] if is_one_in_each(&all, one, places) => {
                    if stitch.as_deref().is_some_and(|known| known != **one) || clause.contains(['(', '[', '*']) {
                        return Some(words.to_owned());
                    }
                    if stitch.is_none() {
                        kept.push(format!("{one} in each st around"));
                    }
                    // Only such places are those of an opening.
                    free |= all
                        .iter()
                        .any(|word| matches!(*word, "ch" | "skipped" | "sleeve" | "thumb" | "underside" | "side"));
                    stitch = Some((**one).to_owned());
                    any += 1;
                }
                [first, _] if **first == "~sl_st" && all.first() == Some(&"~sl_st") => kept.push(clause.to_owned()),
                [] | [_] if is_beside(&all) => kept.push(clause.to_owned()),
                _ => return Some(words.to_owned()),
            }
        }
        let total = kept.last().filter(|last| behind.is_empty() && is_bare_total(last));
        let total = total.map(|total| format!(" ( {total} )"));
        if total.is_some() {
            kept.pop();
        }
        let behind = &total.unwrap_or_else(|| behind.to_owned());
        Some(if free && any > 1 && !behind.is_empty() { kept.join(" , ") + behind } else { words.to_owned() })
    }

    /// `Sl st in next st and fasten off.` below the last round of a spiral: the round ends so.
    pub(super) fn slips_behind(&mut self, tokens: &[Token]) -> bool {
        let words = line_of(tokens);
        let Some(rest) = behind_slip(&words).filter(|_| !self.piece.joined) else { return false };
        let last = self.piece.lines.iter().rev().find(|line| !line.starts_with(['#', '>']));
        let several = last.is_some_and(|last| last.starts_with("rnds ") || last.starts_with("again "));
        // Below several rounds that are alike it is only how the maker ends.
        if several && !rest.is_empty() {
            self.words("Sl st in next st.");
            self.piece.lines.push("fasten off".to_owned());
            return true;
        }
        let Some(line) = self.last_round().filter(|line| !line.contains(": as ")) else { return false };
        let (steps, count) = line
            .split_once(" = ")
            .map_or((line.clone(), String::new()), |(steps, count)| (steps.to_owned(), format!(" = {count}")));
        *line = format!("{steps}, sl st in next{count}");
        if !rest.is_empty() {
            self.piece.lines.push("fasten off".to_owned());
            let told = rest.split_once(" . ").map(|(_, told)| told).unwrap_or_default();
            let start = tokens.len().saturating_sub(told.split(' ').filter(|word| !word.is_empty()).count());
            if let (false, Some(token)) = (told.is_empty(), tokens.get(start)) {
                self.behind_end = Some(token.start);
            }
        }
        true
    }

    /// The last round, where nothing but words stands below it.
    fn last_round(&mut self) -> Option<&mut String> {
        let at = self.piece.lines.iter().rposition(|line| line.starts_with("rnd ") && line.contains(": "))?;
        let later = self.piece.lines.get(at + 1..)?;
        if later.iter().all(|line| line.starts_with(['#', '>'])) { self.piece.lines.get_mut(at) } else { None }
    }
}

/// What stands behind `sl st in next st`: nothing, or the end of the yarn.
fn behind_slip(words: &str) -> Option<&str> {
    const SLIPS: [&str; 6] = [
        "~sl_st",
        "~sl_st in next st",
        "~sl_st in first st",
        "~sl_st in next ~sc",
        "~sl_st in next",
        "~sl_st in next 1 st",
    ];
    if words.trim_end_matches([' ', '.']) == "~sl_st" {
        return None;
    }
    let rest = SLIPS.iter().filter_map(|begins| words.strip_prefix(begins)).min_by_key(|rest| rest.len())?;
    let rest = rest.trim_start_matches([' ', ',', '.', ';']).trim_start_matches("and ").trim_start();
    let ends = rest.is_empty() || ["fasten off", "fo"].iter().any(|end| rest.starts_with(end));
    (ends && !rest.contains('~')).then_some(rest)
}

/// What is worked, behind words by which yarn is joined for it.
fn behind_join(words: &str) -> &str {
    let joins = |join: &str| {
        ["join ", "rejoin ", "attach "].iter().any(|begins| join.starts_with(begins)) && !join.contains(" ~sc")
    };
    let parted = words.split_once(" . ").or_else(|| words.split_once(" , "));
    parted.filter(|(join, _)| joins(join)).map_or(words, |(_, rest)| rest)
}

/// `~sc in each of next 6 ~dc`: one such stitch in places, which may be named by what they are.
fn is_one_in_each(all: &[&str], one: &str, places: &[&&str]) -> bool {
    let is_place = |place: &&&str| {
        all.last() == Some(*place) || all.windows(2).any(|two| matches!(two, [kind, "on"] if *kind == **place))
    };
    let begins = all.first() == Some(&one) && all.get(1) == Some(&"in")
        || all.first() == Some(&"1") && all.get(1) == Some(&one) && all.get(2) == Some(&"in");
    one != "~sl_st" && places.iter().all(is_place) && begins
}

/// `8 sc evenly around opening`, `sc around thumb hole`: all round what the piece begins in.
fn begun_evenly(all: &[&str], one: &str) -> bool {
    const PLAIN: [&str; 12] =
        ["evenly", "around", "along", "opening", "thumb", "hole", "armhole", "armhole", "sleeve", "edge", "it", "work"];
    let around = all.iter().any(|word| matches!(*word, "around" | "along"));
    let spoken = all.iter().any(|word| matches!(*word, "evenly" | "opening" | "hole" | "armhole"));
    around
        && spoken
        && one != "~sl_st"
        && all.iter().all(|word| *word == one || is_amount(word) || PLAIN.contains(word))
}

/// A total, a chain or a join beside the stitches.
fn is_beside(all: &[&str]) -> bool {
    all.first().is_some_and(|first| is_amount(first)) && all.len() <= 2
        || all.iter().any(|word| matches!(*word, "ch" | "join" | "~sl_st"))
}

/// `26 st`: a total without brackets.
fn is_bare_total(last: &str) -> bool {
    last.split_once(' ').map_or(is_amount(last), |(number, kind)| {
        is_amount(number) && (kind == "st" || kind.starts_with('~') && !kind.contains(' '))
    })
}
