//! The words of a text, brought to the spelling that the grammar of written patterns goes by.

use std::collections::{BTreeMap, HashMap};
use std::sync::OnceLock;

use super::listed::{by_size, for_all};
use super::phrases::in_few_words;
use crate::stitch::{Stitches, Terms};

/// Words of more than so many tokens are no name of a stitch.
const LONGEST_NAME: usize = 10;
/// What a stitch may be called in full without being meant wherever the word stands.
const PLACES: [&str; 6] = ["ring", "first", "last", "next", "same", "top"];
const TABLE: &str = include_str!("words.txt");

/// A word, a number or a sign.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Token {
    /// As the grammar reads it.
    pub text: String,
    /// Where it begins in the text, in bytes.
    pub start: usize,
    /// Where it ends.
    pub end: usize,
}

/// What words mean in one text: those of the trade, and the names that the text gives.
#[derive(Debug, Clone)]
pub(super) struct Lexicon<'a> {
    stitches: &'a Stitches,
    pub terms: Terms,
    /// How many sizes there are.
    pub sizes: usize,
    /// The sizes that the text at hand is for, where it is for some only: its lists have one number for each of those.
    pub concerned: Option<Vec<bool>>,
    /// Stitches that the text explains, by their names, with their abbreviation.
    own: HashMap<String, String>,
    /// Those of them that are called by a common word, as `space`: it is the stitch only where one begins.
    common: HashMap<String, String>,
    /// Names whose capitals matter: yarns and pieces.
    names: BTreeMap<String, String>,
    /// How many words the longest name of the text's own has in which there are signs.
    signed: usize,
    /// The signs between sizes that stand in the text where it names them.
    pub parted_by: String,
}

impl<'a> Lexicon<'a> {
    /// Only the words of the trade.
    pub fn new(stitches: &'a Stitches, terms: Terms, sizes: usize) -> Self {
        Self {
            stitches,
            terms,
            sizes,
            concerned: None,
            own: HashMap::new(),
            common: HashMap::new(),
            names: BTreeMap::new(),
            signed: 0,
            parted_by: String::new(),
        }
    }

    /// Keeps in mind how long a name is in which there are signs.
    fn measure(&mut self, name: &str) {
        let words = split(name);
        if words.iter().any(|token| !token.text.contains(char::is_alphanumeric)) {
            self.signed = self.signed.max(words.len());
        }
    }

    /// A stitch of the text's own.
    pub fn add_stitch(&mut self, short: &str, full: &str) {
        self.measure(short);
        self.measure(full);
        let name = spelt(short);
        let short = &own_word(short);
        let common = table().contains_key(&name);
        if common { &mut self.common } else { &mut self.own }.insert(name, short.to_owned());
        let full = spelt(full);
        let common = PLACES.contains(&full.as_str()) || table().contains_key(&full);
        let names = if common { &mut self.common } else { &mut self.own };
        names.insert(full, short.to_owned());
    }

    /// A stitch of the trade by the names that the text gives it.
    pub fn add_stitch_of_the_trade(&mut self, names: &[&str], stitch: &str) {
        for name in names {
            self.measure(name);
            // `X`, `V`: a letter is the stitch only as a capital; `a` is a word.
            if name.len() == 1 && name.starts_with(char::is_uppercase) {
                self.names.insert((*name).to_owned(), marked(stitch));
            } else {
                self.own.insert(spelt(name), stitch.to_owned());
            }
        }
    }

    /// The trade's plain stitch of a height in turning chains, in the names of the text.
    pub fn plain(&self, height: u32) -> Option<&str> {
        let plain = self.stitches.get(self.stitches.plain(height)?)?;
        Some(plain.names(self.terms).short.as_str())
    }

    /// A yarn by its name.
    pub fn add_yarn(&mut self, name: &str) {
        self.measure(name);
        self.names.insert(words_of(name), format!("%{}", yarn_word(name)));
    }

    /// A piece by its name and its place among the pieces.
    pub fn add_piece(&mut self, name: &str, at: usize) {
        self.measure(name);
        self.names.entry(words_of(name)).or_insert_with(|| format!("@{at}"));
        let lower = name.to_lowercase();
        // A heading has capitals that its piece has not where it is spoken of.
        let capitals = !name.chars().any(char::is_lowercase);
        if capitals
            && name.chars().count() > 2
            && !self.knows(&lower)
            && !lower.contains(' ')
            && lower != "back"
            && lower != "front"
        {
            self.names.entry(words_of(&lower)).or_insert_with(|| format!("@{at}"));
        }
    }

    /// The same without the text's own stitches, some of which have names that are common words, as `side`.
    pub fn of_the_trade_alone(&self) -> Self {
        Self { own: HashMap::new(), common: HashMap::new(), ..self.clone() }
    }

    /// The words of a text.
    pub fn read(&self, text: &str) -> Vec<Token> {
        let raw = undotted(&split(text));
        let mut tokens = Vec::new();
        let mut at = 0;
        while let Some(rest) = raw.get(at..).filter(|rest| !rest.is_empty()) {
            let before = at.checked_sub(1).and_then(|before| raw.get(before)).map_or(",", |token| token.text.as_str());
            let (word, taken) =
                self.begun(rest, before).or_else(|| lettered(rest, before)).unwrap_or_else(|| self.meaning(rest));
            if let (Some(first), Some(last)) = (rest.first(), rest.get(taken.saturating_sub(1)))
                && !word.is_empty()
            {
                tokens.extend(word.split(' ').map(|w| Token { text: w.to_owned(), start: first.start, end: last.end }));
            }
            at += taken.max(1);
            // `Chain (ch) 5`, `single crochet (sc)`: the same said twice.
            at += raw.get(at..).map_or(0, |behind| self.said_twice(&word, behind));
        }
        let tokens = spaces(&tokens);
        let tokens = if self.sizes > 1 { ranges(&tokens, text) } else { tokens };
        let told = match &self.concerned {
            None if self.sizes > 1 => self.by_size(&tokens, self.sizes),
            None => tokens,
            Some(concerned) => {
                let sizes = concerned.iter().filter(|is_for| **is_for).count();
                // A list may be one of all sizes, with a dash for the others.
                let tokens = if self.sizes > 1 { self.by_size(&tokens, self.sizes) } else { tokens };
                let told = if sizes > 1 && sizes < self.sizes { self.by_size(&tokens, sizes) } else { tokens };
                told.into_iter().map(|token| Token { text: for_all(&token.text, concerned, sizes), ..token }).collect()
            }
        };
        in_few_words(self.raised(number_behind(cited(told))))
    }

    fn by_size(&self, tokens: &[Token], sizes: usize) -> Vec<Token> {
        by_size(tokens, sizes, &self.parted_by)
    }

    /// Whether a word means something in patterns.
    pub fn knows(&self, word: &str) -> bool {
        table().contains_key(word) || self.is_of_the_trade(word)
    }

    /// `tr/rf`, `tr / rb`: raised in front and behind, as some write what goes round a post.
    fn raised(&self, tokens: Vec<Token>) -> Vec<Token> {
        let mut told: Vec<Token> = Vec::with_capacity(tokens.len());
        for token in tokens {
            let post = match token.text.as_str() {
                "rf" => "fp",
                "rb" => "bp",
                _ => "",
            };
            let stitch = match told.as_slice() {
                [.., stitch, slash] if slash.text == "/" && !post.is_empty() => stitch.text.strip_prefix('~'),
                _ => None,
            };
            let name = stitch.map(|stitch| format!("{post}{stitch}")).filter(|name| self.is_of_the_trade(name));
            match name {
                Some(name) => {
                    told.pop();
                    if let Some(stitch) = told.last_mut() {
                        stitch.text = marked(&name);
                        stitch.end = token.end;
                    }
                }
                None => told.push(token),
            }
        }
        told
    }

    /// How many of the next words only give in brackets the abbreviation of what has just been said.
    fn said_twice(&self, word: &str, behind: &[Token]) -> usize {
        const MOST_WORDS: usize = 3;
        let is = |at: usize, sign: &str| behind.get(at).is_some_and(|token| token.text == sign);
        let begins = is(0, "(") && (word == "ch" || word == "st" || word == "sp" || word.starts_with('~'));
        let close = (2..=MOST_WORDS + 1).find(|at| begins && is(*at, ")"));
        let inside = close.and_then(|close| behind.get(1..close));
        inside.map_or(0, |inside| {
            let (meant, taken) = self.meaning(inside);
            if meant == word && taken == inside.len() { inside.len() + 2 } else { 0 }
        })
    }

    /// A stitch that is called by a common word, where a step may begin.
    fn begun(&self, rest: &[Token], before: &str) -> Option<(String, usize)> {
        let begins = matches!(before, "," | "[" | "{" | "(") || is_number(before);
        let word = rest.first()?.text.to_lowercase();
        // Behind `first` these can only be stitches.
        let counted = before.eq_ignore_ascii_case("first") && matches!(word.as_str(), "beg" | "rem");
        if !begins && !counted {
            return None;
        }
        Some((marked(self.common.get(&word)?), 1))
    }

    /// What the first words mean, and how many they are.
    fn meaning(&self, rest: &[Token]) -> (String, usize) {
        let joined = |count: usize, kept: bool| {
            let words: Vec<String> = rest
                .get(..count)?
                .iter()
                .map(|token| if kept { token.text.clone() } else { token.text.to_lowercase() })
                .collect();
            Some(words.join(" "))
        };
        let longest = self.longest(rest);
        for count in (1..=longest).rev() {
            if let Some(name) = joined(count, true).and_then(|words| self.names.get(&words)) {
                return (name.clone(), count);
            }
            let Some(words) = joined(count, false) else { continue };
            if let Some(short) = self.own.get(&words).or_else(|| self.own.get(words.strip_suffix('s')?)) {
                return (marked(short), count);
            }
            if let Some(word) = table().get(&words) {
                return (word.clone(), count);
            }
            if let Some(short) = self.trade_name(&words) {
                return (marked(&short), count);
            }
        }
        let first = rest.first().map(|token| token.text.to_lowercase()).unwrap_or_default();
        (self.alone(&first), 1)
    }

    /// How many of the next words may belong to one name. No name goes on behind a sign that ends a clause or opens a bracket, but those of
    /// yarns, pieces and own stitches that have one.
    fn longest(&self, rest: &[Token]) -> usize {
        let sign =
            |token: &Token| !token.text.contains(char::is_alphanumeric) && token.text != "&" && token.text != ".";
        let plain = rest.iter().take(LONGEST_NAME).position(sign).unwrap_or(LONGEST_NAME).max(1);
        self.signed.max(plain).min(LONGEST_NAME).min(rest.len())
    }

    /// Whether the trade has a stitch of this name.
    pub fn is_of_the_trade(&self, name: &str) -> bool {
        self.stitches.find(name, self.terms).is_some()
    }

    fn trade_name(&self, words: &str) -> Option<String> {
        if !words.starts_with(|c: char| c.is_alphabetic()) {
            return None;
        }
        let find = |name: &str| self.stitches.find(name, self.terms);
        let singular = || words.strip_suffix('s').and_then(find);
        let worked_off =
            || words.replace(" tog", "tog").strip_suffix("tog").and_then(|_| find(&words.replace(' ', "")));
        let id = find(words).or_else(singular).or_else(worked_off)?;
        Some(self.stitches.get(id)?.names(self.terms).short.clone())
    }

    /// A stitch with the loop or the post that it goes into, in one word.
    fn with_loop_or_post(&self, word: &str) -> Option<String> {
        // `hdcblo`, `hdc-blo`.
        for (ending, which) in [("blo", "back"), ("flo", "front")] {
            let stitch = word.strip_suffix(ending).map(|stitch| stitch.trim_end_matches('-'));
            let stitch = stitch.map(|stitch| if stitch == "sl" { "sl st" } else { stitch });
            if let Some(short) = stitch.and_then(|stitch| self.trade_name(stitch)) {
                return Some(format!("{} in {which} loop only", marked(&short)));
            }
            let stitch = word.strip_prefix(ending).map(|stitch| stitch.trim_start_matches('-'));
            if let Some(short) = stitch.filter(|stitch| !stitch.is_empty()).and_then(|stitch| self.trade_name(stitch)) {
                return Some(format!("in {which} loop only {}", marked(&short)));
            }
        }
        // `dcfp`, `tr-bp`: the post behind the stitch.
        for post in ["fp", "bp"] {
            let stitch = word.strip_suffix(post).map(|stitch| stitch.trim_end_matches('-'));
            let name = stitch.filter(|stitch| !stitch.is_empty()).map(|stitch| format!("{post}{stitch}"));
            if let Some(short) = name.and_then(|name| self.trade_name(&name)) {
                return Some(marked(&short));
            }
        }
        None
    }

    /// A word that means nothing more: `ch3` and `chain-2` are brought to one form.
    fn alone(&self, word: &str) -> String {
        if matches!(word, "ch-sp" | "ch-sps" | "ch-space" | "ch-spaces" | "ch-loop" | "ch-loops" | "ch-lp" | "ch-lps") {
            return "ch sp".to_owned();
        }
        for chain in ["ch", "chain"] {
            let Some(rest) = word.strip_prefix(chain) else { continue };
            if is_number(rest) {
                return format!("ch {rest}");
            }
            if let Some(number) = rest.strip_prefix('-').filter(|n| is_number(n)) {
                return format!("ch-{number}");
            }
            // `ch2-sp`.
            let space =
                |kind: &str| matches!(kind, "sp" | "sps" | "space" | "spaces" | "loop" | "loops" | "lp" | "lps");
            if let Some((number, _)) = rest.split_once('-').filter(|(number, kind)| is_number(number) && space(kind)) {
                return format!("ch-{number} sp");
            }
        }
        // `thirty-three`.
        if let Some((tens, ones)) = word.split_once('-') {
            let number = |word: &str| table().get(word).and_then(|number| number.parse::<u32>().ok());
            if let (Some(tens), Some(ones)) =
                (number(tens).filter(|tens| *tens >= 20), number(ones).filter(|ones| *ones < 10))
            {
                return tens.saturating_add(ones).to_string();
            }
            // `twenty-first`.
            let last = if ones == "first" { Some("1st") } else { table().get(ones).map(String::as_str) };
            let ordinal = last.filter(|word| is_ordinal(word) && word.len() == 3);
            if let Some((ordinal, tens)) = ordinal.zip(number(tens).filter(|tens| *tens >= 20)) {
                return format!("{}{ordinal}", tens / 10);
            }
        }
        if let Some(looped) = self.with_loop_or_post(word) {
            return looped;
        }
        // `x6`, `sc6`.
        let letters = word.trim_end_matches(|c: char| c.is_ascii_digit());
        if let Some(number) = word.strip_prefix(letters).filter(|number| !number.is_empty()) {
            if letters == "x" {
                return format!("× {number}");
            }
            if let Some(word) = table().get(letters).filter(|word| matches!(word.as_str(), "rnd" | "row")) {
                return format!("{word} {number}");
            }
            if let Some(short) = self.trade_name(letters) {
                return format!("{} {number}", marked(&short));
            }
        }
        // `in BLOs`, `st-sts`: a word that is nearly one of ours is taken for it.
        nearly(word).unwrap_or(word).to_owned()
    }
}

/// A yarn by its letter, behind a word that tells it from others: `with A`, `change to MC`.
fn lettered(rest: &[Token], before: &str) -> Option<(String, usize)> {
    // `Row A:`: a row that is called by a letter.
    let row = table().get(before.to_lowercase().as_str()).is_some_and(|word| matches!(word.as_str(), "row" | "rnd"));
    let letter = rest.first().map(|token| token.text.as_str()).filter(|name| matches!(name.as_bytes(), [b'A'..=b'Z']));
    if let (Some(letter), true, Some(":")) = (letter, row, rest.get(1).map(|sign| sign.text.as_str())) {
        return Some((format!("§{letter}"), 1));
    }
    let name = rest.first().map(|token| token.text.as_str()).filter(|name| is_letter_of_yarn(name))?;
    let said = ["with", "to", "color", "colour", "yarn", "using", "in", "join", "attach", "rejoin"];
    let alone = before == "(" && rest.get(1).is_some_and(|next| next.text == ")");
    let says = said.contains(&before.to_lowercase().as_str()) || alone && name.starts_with(['C', 'M']);
    // `in MC` may be the ring, and `with A hook` has no yarn.
    let ring = before.eq_ignore_ascii_case("in") && name == "MC";
    let article = name == "A"
        && rest.get(1).is_some_and(|next| {
            next.text.chars().all(char::is_alphabetic)
                && !matches!(
                    next.text.to_lowercase().as_str(),
                    "and" | "only" | "yarn" | "in" | "to" | "with" | "at" | "ch" | "chain"
                )
        });
    (says && !ring && !article).then(|| (format!("%{name}"), 1))
}

/// The name of a stitch of the text's own in one word, as the notation has it.
pub(super) fn own_word(short: &str) -> String {
    short.split_whitespace().collect::<Vec<_>>().join("-")
}

/// The name of a yarn in one word, as the notation has it.
pub(super) fn yarn_word(name: &str) -> String {
    const ORDINALS: [(&str, &str); 6] =
        [("1st", "first"), ("2nd", "second"), ("3rd", "third"), ("4th", "fourth"), ("5th", "fifth"), ("6th", "sixth")];
    let spelt = ORDINALS.iter().find(|(short, _)| name.starts_with(short));
    let name = &spelt.map_or_else(|| name.to_owned(), |(short, full)| name.replacen(short, full, 1));
    name.split([' ', '.']).filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-")
}

/// `A`, `MC`, `CC2`.
fn is_letter_of_yarn(name: &str) -> bool {
    let letter = name.len() == 1 && ('A'..='H').contains(&name.chars().next().unwrap_or_default());
    let colour = name.strip_prefix("CC").is_some_and(|number| number.is_empty() || is_number(number));
    let lettered = matches!(name.as_bytes(), [b'C', b'A'..=b'H']);
    letter || colour || lettered || name == "MC"
}

/// `Rounds 3 – 8 [3 – 9, 3 – 10]`: rows from one to another, in each size, without the room around the dash.
fn ranges(tokens: &[Token], written: &str) -> Vec<Token> {
    let mut told: Vec<Token> = Vec::with_capacity(tokens.len());
    let (mut at, mut listed) = (0, false);
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    while let Some(token) = tokens.get(at) {
        let before = told.last().map_or("", |token| token.text.as_str());
        // Behind one row a dash leads to its total.
        let several = told.last().and_then(|token| written.get(token.start..token.end));
        let rows = matches!(before, "row" | "rnd") && several.is_some_and(|word| word.ends_with(['s', 'S']));
        let within = listed && matches!(before, "(" | "[" | "{" | "," | "/");
        let range = is_number(text(at)) && matches!(text(at + 1), "–" | "-" | "to") && is_number(text(at + 2));
        let two = text(at).parse::<u32>().ok().zip(text(at + 2).parse::<u32>().ok());
        if range && (rows || within) && two.is_some_and(|(from, to)| from < to) {
            let end = tokens.get(at + 2).map_or(token.end, |last| last.end);
            told.push(Token { text: format!("{}–{}", text(at), text(at + 2)), start: token.start, end });
            listed = true;
            at += 3;
            continue;
        }
        listed &= matches!(token.text.as_str(), "(" | "[" | "{" | "," | "/") || is_number(&token.text);
        told.push(token.clone());
        at += 1;
    }
    told
}

/// A space by its chains, however it is written: `ch-3 loop`, `ch 3 sp`, `3 ch loop` are each `ch-3 sp`.
fn spaces(tokens: &[Token]) -> Vec<Token> {
    let mut told: Vec<Token> = Vec::with_capacity(tokens.len());
    let mut at = 0;
    let text = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
    // `3ch point`, `ch-2 corner`: what the chains of a round are for.
    let named = |at: usize| {
        let chains = at.checked_sub(1).map_or("", text);
        let before = at.checked_sub(2).map_or("", text);
        let chained =
            chains.starts_with("ch-") || chains == "ch" && is_number(before) || is_number(chains) && before == "ch";
        chained && matches!(text(at), "point" | "points" | "corner" | "corners") && text(at + 1) != "sp"
    };
    let space = |at: usize| matches!(text(at), "sp" | "loop") || named(at);
    let only = |at: usize| matches!(text(at + 1), "only") || matches!(text(at.wrapping_sub(1)), "front" | "back");
    while let Some(token) = tokens.get(at) {
        let chains = match (text(at), text(at + 1)) {
            (chain, _) if chain.starts_with("ch-") && space(at + 1) => Some((chain.trim_start_matches("ch-"), 2)),
            ("ch", number) if is_number(number) && space(at + 2) => Some((number, 3)),
            // `2ch sp` is one of two chains; `1 ch sp` is how many there are.
            (number, "ch")
                if is_number(number) && space(at + 2) && tokens.get(at + 1).is_some_and(|ch| ch.start == token.end) =>
            {
                Some((number, 3))
            }
            (number, "ch") if is_number(number) && text(at + 2) == "loop" => Some((number, 3)),
            // `each 6 ch sp`.
            (number, "ch")
                if is_number(number)
                    && space(at + 2)
                    && at.checked_sub(1).is_some_and(|before| text(before) == "each") =>
            {
                Some((number, 3))
            }
            // `2-ch sp`.
            (number, "-") if is_number(number) && text(at + 2) == "ch" && space(at + 3) => Some((number, 4)),
            _ => None,
        };
        let Some((number, taken)) = chains.filter(|(_, taken)| !only(at + taken - 1)) else {
            told.push(token.clone());
            at += 1;
            continue;
        };
        let end = tokens.get(at + taken - 1).map_or(token.end, |last| last.end);
        told.push(Token { text: format!("ch-{number}"), ..token.clone() });
        told.push(Token { text: "sp".to_owned(), start: token.start, end });
        at += taken;
    }
    told
}

/// `As R2` and `Rep R3-R4` speak of rows.
fn cited(tokens: Vec<Token>) -> Vec<Token> {
    let mut told: Vec<Token> = Vec::with_capacity(tokens.len());
    for token in tokens {
        let before = told.last().map_or("", |before| before.text.as_str());
        let number = token.text.strip_prefix('r').map(|rest| rest.replace("-r", "-").replace("–r", "–"));
        let number = number.filter(|number| number.starts_with(|c: char| c.is_ascii_digit()));
        let number = number.filter(|number| number.chars().all(|c| c.is_ascii_digit() || matches!(c, '-' | '–')));
        let further = told.len().checked_sub(3).and_then(|at| told.get(at)).map_or("", |token| token.text.as_str());
        let linked = matches!(before, "and" | "to" | "-" | "–" | "&" | "+") && further == "row";
        match number.filter(|_| matches!(before, "as" | "rep" | "of") || linked) {
            Some(number) => {
                if let Some(plus) = told.last_mut().filter(|before| linked && before.text == "+") {
                    "and".clone_into(&mut plus.text);
                }
                told.push(Token { text: "row".to_owned(), ..token.clone() });
                told.push(Token { text: number, ..token });
            }
            None => told.push(token),
        }
    }
    told
}

/// `3ch`, as a step, is `ch 3`; `top of 3-ch` is `top of ch-3`.
fn number_behind(mut tokens: Vec<Token>) -> Vec<Token> {
    first_spoken(&mut tokens);
    let mut at = 0;
    while at + 1 < tokens.len() {
        let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
        let before = at.checked_sub(1).map_or(",", word);
        let further = at.checked_sub(2).map_or("", word);
        let hyphen = word(at + 1) == "-" && word(at + 2) == "ch";
        let begins = matches!(
            before,
            "," | ";"
                | "."
                | ":"
                | "("
                | "["
                | "{"
                | "*"
                | "**"
                | "and"
                | "then"
                | "turn"
                | "work"
                | "make"
                | "with"
                | "foundation"
        ) || before == "of" && (matches!(further, "top" | "beg") || is_ordinal(further))
            || matches!(before, "beg" | "turning" | "skipped");
        let behind = word(at + if hyphen { 3 } else { 2 });
        let place = matches!(behind, "sp" | "loop" | "from" | "st")
            || is_number(behind)
            || behind.starts_with('~') && behind != "~sl_st";
        if is_amount(word(at)) && (hyphen || word(at + 1) == "ch") && begins && !place {
            let (number, chain) = (at, at + if hyphen { 2 } else { 1 });
            if hyphen {
                tokens.remove(at + 1);
            }
            tokens.swap(number, chain - usize::from(hyphen));
            at += 1;
        }
        at += 1;
    }
    tokens
}

/// `1st dc`, as a place, is the first one.
fn first_spoken(tokens: &mut [Token]) {
    for at in 0..tokens.len() {
        let word = |at: usize| tokens.get(at).map_or("", |token| token.text.as_str());
        let placed = at.checked_sub(1).is_some_and(|before| matches!(word(before), "in" | "to" | "of" | "from"));
        let next = word(at + 1);
        let thing = next.starts_with('~') || next.starts_with("ch-") || matches!(next, "st" | "ch" | "sp");
        let spoken =
            word(at) == "1st" && placed && thing && word(at + 2) != "from" && !(word(at + 2) == "of" && next == "ch");
        if let Some(token) = tokens.get_mut(at).filter(|_| spoken) {
            "first".clone_into(&mut token.text);
        }
    }
}

fn is_ordinal(word: &str) -> bool {
    ["st", "nd", "rd", "th"].iter().any(|end| word.strip_suffix(end).is_some_and(is_number))
}

/// A number, of one size or of several.
pub(super) fn is_amount(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit() || c == '–')
        && text.split('/').all(|one| one == "–" || is_number(one))
}

/// Words that are often mistyped.
const OFTEN: [&str; 25] = [
    "every", "around", "across", "each", "next", "ring", "repeat", "stitch", "stitches", "round", "join", "turn",
    "chain", "fasten", "off", "magic", "hook", "second", "first", "last", "times", "space", "with", "from", "working",
];

/// Words of a text that are taken for another one, which one letter makes of them.
pub(super) fn mistyped(text: &str) -> impl Iterator<Item = (String, &'static str)> {
    let words = text.split(|c: char| !c.is_alphabetic()).map(str::to_lowercase);
    words.filter_map(|word| {
        let often = often(&word).filter(|_| !table().contains_key(word.as_str()))?;
        Some((word, often))
    })
}

/// A word of the trade in which one letter is missing, too many, another one, or in its neighbour's place.
fn nearly(word: &str) -> Option<&'static str> {
    often(word).map(|often| table().get(often).map_or(often, String::as_str))
}

/// The same as it is written.
fn often(word: &str) -> Option<&'static str> {
    const LEAST: usize = 4;
    if word.chars().count() < LEAST
        || !word.chars().all(char::is_alphabetic)
        || OFTEN.contains(&word)
        || KNOWN.contains(&word)
    {
        return None;
    }
    let mut near = OFTEN.iter().filter(|often| often.len() >= LEAST && one_slip(word, often));
    let first = near.next()?;
    near.next().is_none().then_some(*first)
}

/// Words that are no slips, though they look like one.
const KNOWN: [&str; 16] = [
    "very", "ever", "text", "ends", "hooks", "form", "reach", "beach", "teach", "lasts", "list", "lost", "wring",
    "wind", "width", "firsts",
];

fn one_slip(word: &str, other: &str) -> bool {
    let (one, two): (Vec<char>, Vec<char>) = (word.chars().collect(), other.chars().collect());
    let same = one.iter().zip(&two).take_while(|(one, two)| one == two).count();
    let end = one.iter().rev().zip(two.iter().rev()).take_while(|(one, two)| one == two).count();
    match one.len().cmp(&two.len()) {
        std::cmp::Ordering::Equal => {
            let (from, to) = (same, one.len().saturating_sub(end));
            let (one, two) = (one.get(from..to).unwrap_or_default(), two.get(from..to).unwrap_or_default());
            // Two letters in each other's place; another letter may make another word.
            one.len() == 2 && one.first() == two.last() && one.last() == two.first()
        }
        std::cmp::Ordering::Less => one.len() + 1 == two.len() && same + end >= one.len(),
        // One letter twice; any other letter more may make another word.
        std::cmp::Ordering::Greater => {
            let twice = same.checked_sub(1).is_some_and(|before| one.get(before) == one.get(same));
            two.len() + 1 == one.len() && same + end >= two.len() && twice
        }
    }
}

/// The words as one text, with one space between two.
pub(super) fn line_of(tokens: &[Token]) -> String {
    let words: Vec<&str> = tokens.iter().map(|token| token.text.as_str()).collect();
    words.join(" ")
}

fn marked(short: &str) -> String {
    format!("~{}", short.replace(' ', "_"))
}

fn spelt(name: &str) -> String {
    words_of(&name.to_lowercase())
}

fn words_of(name: &str) -> String {
    line_of(&split(name))
}

pub(super) fn is_number(text: &str) -> bool {
    !text.is_empty() && text.chars().all(|c| c.is_ascii_digit())
}

fn table() -> &'static HashMap<String, String> {
    static WORDS: OnceLock<HashMap<String, String>> = OnceLock::new();
    WORDS.get_or_init(|| {
        let rows = TABLE.lines().filter(|line| !line.starts_with('#')).filter_map(|line| line.split_once(':'));
        let words = rows.flat_map(|(means, words)| {
            let means = if means == "-" { "" } else { means };
            words.split(',').map(move |word| (word.trim().to_owned(), means.to_owned()))
        });
        words.collect()
    })
}

/// The words, numbers and signs as they stand.
fn split(text: &str) -> Vec<Token> {
    let mut tokens = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let length = length_of_first(rest, first);
        let (word, after) = rest.split_at_checked(length).unwrap_or((rest, ""));
        let start = text.len() - rest.len();
        if !first.is_whitespace() {
            let word = word.replace('\u{2019}', "'").replace('_', "");
            // `~ 42 dc` behind a line is its total.
            let word = if word == "~" { "–".to_owned() } else { word };
            tokens.push(Token { text: word, start, end: start + length });
        }
        rest = after;
    }
    tokens
}

/// Words that old books write with a full stop behind them.
const DOTTED: [&str; 26] = [
    "tr", "dc", "sc", "ss", "ch", "chs", "st", "sts", "sp", "sps", "lp", "lps", "dtr", "htr", "hdc", "sl", "beg",
    "rep", "foll", "inc", "dec", "tog", "rem", "sk", "prev", "cl",
];

/// `1 d.c. in next tr., 5 ch.`: abbreviations without their full stops. One that ends a sentence stays.
fn undotted(tokens: &[Token]) -> Vec<Token> {
    let mut told: Vec<Token> = Vec::with_capacity(tokens.len());
    let letter = |token: &Token| token.text.len() == 1 && token.text.starts_with(|c: char| c.is_ascii_lowercase());
    let mut at = 0;
    while let Some(token) = tokens.get(at) {
        let next = |by: usize| tokens.get(at + by);
        let close = |one: &Token, other: &Token| one.end == other.start;
        // `d.c.` and `s.c.`.
        if let (Some(dot), Some(second)) = (next(1), next(2))
            && letter(token)
            && dot.text == "."
            && letter(second)
            && close(token, dot)
            && close(dot, second)
        {
            let joined = Token { text: format!("{}{}", token.text, second.text), start: token.start, end: second.end };
            at += 3;
            told.push(joined);
        } else {
            told.push(token.clone());
            at += 1;
        }
        // A bracket or a star begins the next sentence.
        let goes_on = |token: &Token| {
            token.text.starts_with(|c: char| c.is_lowercase()) || matches!(token.text.as_str(), "," | ";" | ")" | "]")
        };
        let short = told.last().is_some_and(|last| DOTTED.contains(&last.text.to_lowercase().as_str()));
        let dotted = tokens.get(at).is_some_and(|dot| dot.text == ".") && tokens.get(at + 1).is_some_and(goes_on);
        if short && dotted {
            at += 1;
        }
    }
    told
}

fn length_of_first(rest: &str, first: char) -> usize {
    let run = |belongs: &dyn Fn(char) -> bool| rest.find(|c| !belongs(c)).unwrap_or(rest.len());
    if first == '“' {
        return rest.find('”').map_or(first.len_utf8(), |at| at + '”'.len_utf8());
    }
    if first.is_alphabetic() {
        return run(&|c| c.is_alphanumeric() || matches!(c, '-' | '\'' | '’')).max(1);
    }
    if first == '*' {
        return run(&|c| c == '*');
    }
    if !first.is_ascii_digit() {
        return first.len_utf8();
    }
    number_length(rest, run(&|c| c.is_ascii_digit()))
}

/// Vulgar fractions that follow a number.
const FRACTIONS: &str = "¼½¾⅛⅜⅝⅞⅓⅔";

/// `12`, `2nd`, `4.5`, `3–60`, `67¾`.
fn number_length(rest: &str, digits: usize) -> usize {
    let after = rest.get(digits..).unwrap_or_default();
    // `5th-9th`.
    if let Some(range) = ordinal_range(rest, digits) {
        return range;
    }
    let ordinal = ["st", "nd", "rd", "th", "ST", "ND", "RD", "TH"]
        .iter()
        .any(|end| after.strip_prefix(end).is_some_and(|after| !after.starts_with(|c: char| c.is_alphanumeric())));
    if ordinal {
        return digits + 2;
    }
    let sign = after.chars().next().filter(|sign| matches!(sign, '.' | '–' | '-')).map_or(0, char::len_utf8);
    let more = after.get(sign..).unwrap_or_default();
    let more = more.find(|c: char| !c.is_ascii_digit()).unwrap_or(more.len());
    let whole = if sign > 0 && more > 0 { digits + sign + more } else { digits };
    // `67¾`.
    let fraction = rest.get(whole..).and_then(|rest| rest.chars().next()).filter(|c| FRACTIONS.contains(*c));
    whole + fraction.map_or(0, char::len_utf8)
}

fn ordinal_range(rest: &str, digits: usize) -> Option<usize> {
    let end = |at: usize| {
        let letters = rest.get(at..at + 2)?.to_lowercase();
        matches!(letters.as_str(), "st" | "nd" | "rd" | "th").then_some(at + 2)
    };
    let first = end(digits)?;
    let sign = rest.get(first..)?.chars().next().filter(|sign| matches!(sign, '-' | '–'))?.len_utf8();
    let more = rest.get(first + sign..)?.find(|c: char| !c.is_ascii_digit()).filter(|more| *more > 0)?;
    end(first + sign + more)
}

#[cfg(test)]
mod tests {
    use super::{Lexicon, line_of};
    use crate::stitch::{Stitches, Terms};

    fn read(text: &str, sizes: usize) -> String {
        let stitches = Stitches::standard();
        let mut lexicon = Lexicon::new(&stitches, Terms::Us, sizes);
        lexicon.add_yarn("A");
        lexicon.add_piece("Left Ear", 0);
        lexicon.add_stitch("vst", "V-stitch");
        line_of(&lexicon.read(text))
    }

    #[test]
    fn abbreviations_and_full_words_are_one_spelling() {
        let short = read("Sc in next 4 sts, sc2tog, sl st in ch-2 sp.", 1);
        assert_eq!(short, "~sc in next 4 st , ~sc2tog , ~sl_st in ch-2 sp .");
        let full = "Single crochet in the next 4 stitches, single crochet 2 together, slip stitch in chain-2 space.";
        assert_eq!(read(full, 1), short);
    }

    #[test]
    fn numbers_of_sizes_are_one_word() {
        assert_eq!(read("Ch 9 (11, 11), 2 (3) times", 3), "ch 9/11/11 , 2 ( 3 ) times");
        assert_eq!(read("Rnds – (23, 27)", 3), "rnd –/23/27");
        assert_eq!(read("Ch 9 (11, 11)", 1), "ch 9 ( 11 , 11 )");
    }

    #[test]
    fn names_are_known_by_their_capitals() {
        assert_eq!(read("Join A to Left Ear; left ear; a V-stitch", 1), "join %A to @0 ; left ear ; ~vst");
    }
}
