//! Which sizes a text has, and which of them a part of it is for.

/// Words that stand before a list of sizes, the longest first. Common practice, no source.
const BEFORE: [&str; 15] = [
    "available in sizes",
    "sizes available",
    "available sizes",
    "sizes included",
    "instructions for sizes",
    "directions for sizes",
    "girls' sizes",
    "boys' sizes",
    "children's sizes",
    "women's sizes",
    "men's sizes",
    "for sizes",
    "in sizes",
    "sizes",
    "size",
];
/// Words that stand before what the sizes fit.
const FITS: [&str; 6] = ["to fit ages", "to fit age", "to fit", "for ages", "ages", "age"];
/// Parts of a body that a size may be called by.
const MEASURED: [&str; 9] = ["bust", "chest", "head", "waist", "hip", "hips", "foot", "age", "ages"];
/// Words that sizes are called by.
const CALLED: [&str; 50] = [
    "size", "small", "medium", "large", "extra", "child", "children", "adult", "baby", "toddler", "newborn", "infant",
    "youth", "woman", "women", "women's", "man", "men", "men's", "kid", "kids", "girl", "boy", "doll", "preemie",
    "teen", "year", "years", "yrs", "yr", "month", "months", "mos", "mo", "premie", "micro", "stroller", "crib",
    "throw", "one", "short", "long", "regular", "tall", "lap", "double", "single", "queen", "king", "twin",
];
/// The longest name of a size.
const LONGEST: usize = 20;

/// The sizes that a text states, if it does: `Sizes: S (M, L)`, `(girls' sizes 4, 8, 12)`.
pub(super) fn stated(text: &str) -> Vec<String> {
    let plain = text.replace(['*', '_'], "");
    let all = changes(text)
        .or_else(|| found(text, &BEFORE))
        .or_else(|| found(&plain, &BEFORE))
        .or_else(|| behind_colon(text))
        .or_else(|| mentioned(&plain))
        .or_else(|| alone(&plain))
        .unwrap_or_default();
    // A full stop ends the sentence.
    all.into_iter().map(|name| name.trim_end_matches('.').to_owned()).collect()
}

/// What stands between the first two names of sizes in a text.
pub(super) fn parted_by(text: &str, names: &[String]) -> String {
    let [first, second, ..] = names else { return String::new() };
    let between = || {
        let at = text.find(first.as_str())? + first.len();
        let rest = text.get(at..)?;
        rest.get(..rest.find(second.as_str())?)
    };
    between().unwrap_or_default().to_owned()
}

/// `For babies: 0–3 m [3–6 m, 6–12 m]`: a list whose names can only be those of sizes.
fn behind_colon(text: &str) -> Option<Vec<String>> {
    let (_, list) = text.rsplit_once(": ")?;
    let measured = |name: &String| ["mm", "cm", "in", "g"].iter().any(|unit| name.ends_with(&format!(" {unit}")));
    let named = |name: &String| name.chars().any(char::is_alphabetic);
    let all = names(list);
    (list.contains(['(', '[']) && all.len() > 1 && all.iter().all(named) && !all.iter().any(measured)).then_some(all)
}

/// The sizes by what they fit: `To fit bust: 81 (86, 92) cm`.
pub(super) fn fitted(text: &str) -> Vec<String> {
    found(text, &FITS).unwrap_or_default()
}

/// `There are two sizes here, Small {Large}`, `Child [Adult]. Where only one figure is given …`: names of sizes before a bracket and in
/// it, where the text speaks of sizes or begins with them.
fn mentioned(text: &str) -> Option<Vec<String>> {
    let speaks = text.to_lowercase().contains("size");
    text.match_indices(['(', '[', '{']).find_map(|(open, _)| {
        let close = open + text.get(open..)?.find([')', ']', '}'])?;
        let before = text.get(..open)?.trim_end();
        let sentence = before.rsplit(['.', ',', ':', ';', '!', '—', '–']).next()?.trim();
        let words: Vec<&str> = sentence.split(' ').collect();
        let begins = before == sentence;
        (1..=words.len().min(3)).rev().find_map(|count| {
            let first = words.get(words.len() - count..)?.join(" ");
            let all = names(&format!("{first} [{}]", text.get(open + 1..close)?));
            let whole = begins && count == words.len();
            (all.len() > 1 && all.iter().all(|name| is_spelt(name)) && (speaks || whole)).then_some(all)
        })
    })
}

/// `Small <Medium> Large – hand 18 <20> 23 cm`, `Toddler, Child and Adult`: names of sizes that nothing stands before.
fn alone(text: &str) -> Option<Vec<String>> {
    const MOST_WORDS: usize = 24;
    let few = text.split(' ').count() <= MOST_WORDS && !text.contains(". ");
    let all = names(text);
    (few && all.len() > 1 && all.iter().all(|name| is_spelt(name))).then_some(all)
}

/// Whether a text has names of sizes and nothing else: `Short (Long)`.
pub(super) fn are_names(text: &str) -> bool {
    let all = apart(text.trim_end_matches(':'));
    all.len() > 1 && all.iter().all(|name| is_spelt(name))
}

/// Whether a name says by itself that it is one of a size.
fn is_spelt(name: &str) -> bool {
    let lower = name.to_lowercase();
    if matches!(lower.as_str(), "size" | "sizes") {
        return false;
    }
    let named =
        lower.split([' ', '-']).any(|word| CALLED.contains(&word) || CALLED.contains(&word.trim_end_matches('s')));
    named || name.chars().all(|c| matches!(c, 'X' | 'S' | 'M' | 'L' | '-' | '/')) || lower.starts_with("size ")
}

fn found(text: &str, before: &[&str]) -> Option<Vec<String>> {
    let parts = text.split(['•', '|', '*', '·']).flat_map(|part| part.split("//")).flat_map(|part| part.split(". "));
    let inside = text.split_once('(').and_then(|(_, rest)| rest.split_once(')')).map(|(inside, _)| inside);
    let whole = text.contains('|').then_some(text);
    whole.into_iter().chain(parts).chain(inside).find_map(|part| {
        let part = part.trim();
        let lower = part.to_lowercase();
        // `Hat in 3 sizes: baby, child, adult`.
        let behind = before.contains(&"sizes").then(|| lower.split_once("sizes:").map(|(_, rest)| rest)).flatten();
        let rest = before.iter().find_map(|begins| lower.strip_prefix(begins)).or(behind)?;
        // `sizeable` begins otherwise, and a text with other small letters is not taken apart by bytes.
        if rest.starts_with(char::is_alphabetic) || lower.len() != part.len() {
            return None;
        }
        let rest = part.get(part.len() - rest.len()..)?;
        let rest = rest.trim_start_matches([':', '/', '-', '–', ' ', '(']);
        let all = names(rest);
        // `Small, Medium, Large (numbers given as S/M/L)`.
        let names = if all.is_empty() {
            names(
                rest.split([' '])
                    .take_while(|word| !word.starts_with(['(', '[']))
                    .collect::<Vec<_>>()
                    .join(" ")
                    .as_str(),
            )
        } else {
            all
        };
        (names.len() > 1).then_some(names)
    })
}

/// `Directions are for small size; changes for medium and large are in brackets`.
fn changes(text: &str) -> Option<Vec<String>> {
    let lower = text.to_lowercase();
    let signs = ["changes for ", "larger sizes ", "other sizes ", ". sizes ", "; sizes "];
    let (first, rest) = signs.iter().find_map(|sign| lower.split_once(sign))?;
    if !["written", "given", "directions", "instructions", "figures", "numbers"].iter().any(|word| first.contains(word))
    {
        return None;
    }
    let first = first.rsplit_once("size ").or_else(|| first.rsplit_once("for ")).map(|(_, first)| first)?;
    let first = first.replace("sizes", "").replace("size", "");
    let first = first.split([';', ',', '.', '(']).next()?.to_owned();
    let rest = rest.split(" are ").next()?.split(" in ").next()?;
    let rest = rest.replace("sizes", "").replace("size", "").replace(" and ", ",");
    let others = rest.split(',').map(str::trim).filter(|name| !name.is_empty()).map(str::to_owned);
    let all = std::iter::once(first.trim().to_owned()).chain(others);
    let mut all: Vec<String> = all.map(|name| name.trim_end_matches('.').to_owned()).collect();
    // `3, 6 and 9 mos`.
    if let Some(unit) = all.last().and_then(|last| Some(last.split_once(' ')?.1.to_owned())) {
        let bare = |name: &&mut String| name.chars().all(|c| c.is_ascii_digit());
        all.iter_mut().filter(bare).for_each(|name| *name = format!("{name} {unit}"));
    }
    (all.len() > 1 && all.iter().all(|name| is_size(name))).then_some(all)
}

/// `small (medium, large)`, `S, M, L`, `S/M/L`, `2 (4, 6) years`, `1 (2, 3) [4, 5]`, `Small <Medium> Large`, `XS – S – M`.
pub(super) fn names(list: &str) -> Vec<String> {
    let list = &list.replace(" in brackets", "").replace(" in parentheses", "");
    let list = &list.replace('’', "'");
    let list = list.split(". ").next().unwrap_or(list).trim().trim_end_matches(['.', ':']);
    let lower = list.to_lowercase();
    let measured =
        MEASURED.iter().find_map(|what| lower.strip_prefix(what)).filter(|rest| !rest.starts_with(char::is_alphabetic));
    if let Some(rest) = measured.filter(|_| lower.len() == list.len()) {
        return names(list.get(list.len() - rest.len()..).unwrap_or_default().trim_start_matches([':', ' ', '-', '–']));
    }
    // What they fit stands behind them, or what else is said in brackets.
    let before = |sign: &str| list.split_once(sign).map(|(before, _)| before);
    let all = std::iter::once(Some(list))
        .chain([" to fit", " fits ", " - ", " – ", " — ", ": "].map(before))
        .chain([brackets_end(list), list.find(OPEN).and_then(|at| list.get(..at))]);
    each_measured(list).or_else(|| all.flatten().map(apart).find(|all| !all.is_empty())).unwrap_or_default()
}

const OPEN: [char; 4] = ['(', '[', '{', '<'];
const CLOSE: [char; 4] = [')', ']', '}', '>'];

/// A list up to the end of the brackets that follow one another.
fn brackets_end(list: &str) -> Option<&str> {
    let mut end = 0;
    while let Some(open) = list.get(end..)?.find(OPEN).filter(|open| end == 0 || *open < 2) {
        end += open;
        end += list.get(end..)?.find(CLOSE)? + 1;
    }
    (end > 0).then(|| list.get(..end)).flatten()
}

/// The names of sizes that signs part, where they can all be such names.
fn apart(list: &str) -> Vec<String> {
    let list = list.trim();
    // What stands behind the brackets is a unit of all of them; behind pointed ones it is the next name.
    let behind = list.rfind(CLOSE).and_then(|close| list.get(close + 1..)).map_or("", str::trim);
    let unit = Some(behind)
        .filter(|unit| !unit.is_empty() && unit.chars().all(char::is_alphabetic) && !list.contains(['<', '>']));
    let list = unit.and_then(|unit| list.strip_suffix(unit)).unwrap_or(list);
    let list = list.replace(" and ", ",").replace(" & ", ",");
    let signs: &[char] = &['(', '[', '{', '<', ')', ']', '}', '>', ',', ';', ':'];
    let dashed = [" – ", " - ", " — "].into_iter().find(|dash| list.contains(dash) && !ranged(&list, dash));
    let list = dashed.map_or_else(|| list.clone(), |dash| list.replace(dash, ","));
    let stroke = if list.contains(signs) { None } else { ['|', '/'].into_iter().find(|sign| list.contains(*sign)) };
    let parts: Vec<&str> = match stroke {
        Some(stroke) => list.split(stroke).collect(),
        None => list.split(signs).collect(),
    };
    let parts = parts.into_iter().map(str::trim).filter(|name| !name.is_empty());
    let mut all: Vec<String> = parts
        .map(|name| {
            name.trim_start_matches("or ").replace('/', "-") + &unit.map(|unit| format!(" {unit}")).unwrap_or_default()
        })
        .collect();
    of_whom(&mut all);
    // `Size: adult medium, 57 cm`: what it measures is no other size.
    let measures = |name: &String| {
        let unit = ["cm", "mm", "in", "inches"].iter().find_map(|unit| name.strip_suffix(unit));
        unit.is_some_and(|number| number.trim().chars().all(|c| c.is_ascii_digit() || c == '.'))
    };
    if unit.is_none() && all.iter().any(measures) && !all.iter().all(measures) {
        return Vec::new();
    }
    if all.len() > 1 && all.iter().all(|name| is_size(name)) { all } else { Vec::new() }
}

/// Whether dashes lead from one number to another: `0 – 3 months, 3 – 6 months`.
fn ranged(list: &str, dash: &str) -> bool {
    let number = |part: &str| part.trim().starts_with(|c: char| c.is_ascii_digit());
    let parts: Vec<&str> = list.split([',', '(', '[', '/', ';']).filter(|part| part.contains(dash)).collect();
    let two = |part: &&str| part.split(dash).count() == 2 && part.split(dash).all(number);
    !parts.is_empty() && parts.iter().all(two)
}

/// `Size 1 [Size 2]`, `Women's S / M / L`: the word before the list is that of all names, or of none.
fn of_whom(all: &mut [String]) {
    let Some((first, others)) = all.split_first_mut().filter(|(_, others)| !others.is_empty()) else { return };
    let sized = |name: &String| name.to_lowercase().starts_with("size ");
    if first.chars().all(|c| c.is_ascii_digit()) && others.iter().all(sized) {
        *first = format!("Size {first}");
    }
    let whom = first.to_lowercase().split_once(' ').is_some_and(|(whom, _)| whom.trim_end_matches(':').ends_with("'s"));
    if let Some((_, letters)) = first.split_once(' ').filter(|_| whom && !others.iter().any(|name| name.contains(' ')))
    {
        *first = letters.to_owned();
    }
}

/// `XS 82 cm, S 88 cm, M 94 cm`: each size with a measure of its own.
fn each_measured(list: &str) -> Option<Vec<String>> {
    let name = |part: &str| {
        let part = part.trim();
        let at = part.find(|c: char| c.is_ascii_digit()).filter(|at| *at > 0)?;
        let name = part.get(..at)?.trim().trim_end_matches(['=', ':', '(', ' ', '-', '–']);
        let measure = part.get(at..)?.trim_end_matches([')', '.']);
        let measured = ["cm", "in", "inches", "mm", "\""].iter().any(|unit| measure.ends_with(unit));
        (measured && name.chars().any(char::is_alphabetic) && is_size(name)).then(|| name.to_owned())
    };
    let all: Option<Vec<String>> = list.split([',', ';', '|']).map(name).collect();
    all.filter(|all| all.len() > 1)
}

/// Whether a few words can be the name of a size.
fn is_size(name: &str) -> bool {
    let lower = name.to_lowercase();
    let words = || lower.split([' ', '-', '–', '/', '.']).filter(|word| !word.is_empty());
    let letters = |word: &str| {
        // `28 x 32` is no name.
        let letters = word.trim_start_matches(|c: char| c.is_ascii_digit());
        word != "x"
            && !letters.is_empty()
            && letters.trim_start_matches('x').len() <= 1
            && letters.ends_with(['s', 'm', 'l', 'x'])
    };
    let plain = |word: &str| word.chars().all(|c| c.is_ascii_digit());
    let unit = |word: &str| matches!(word, "cm" | "in" | "mm" | "m" | "t" | "inches" | "y");
    let called = |word: &str| CALLED.contains(&word) || CALLED.contains(&word.trim_end_matches('s'));
    // `EU 36/37`.
    let country = |word: &str| word == "eu" && lower.contains(|c: char| c.is_ascii_digit());
    name.chars().count() <= LONGEST
        && words().next().is_some()
        && words()
            .all(|word| plain(word) || letters(word) || called(word) || unit(word) || country(word) || word == "to")
        && words().any(|word| plain(word) || letters(word) || called(word))
}

/// Sizes that a text doesn't state, and why there are so many.
pub(super) struct Inferred {
    pub names: Vec<String>,
    pub why: String,
}

/// The sizes of a text whose numbers come in lists of the same length, `58 (64, 70)`: by the names that a list of that length has, else by
/// their number.
pub(super) fn inferred<'t>(texts: impl Iterator<Item = &'t str> + Clone) -> Option<Inferred> {
    // Two numbers may be a stitch with its total.
    const LEAST_SIZES: usize = 3;
    const LEAST_LISTS: usize = 3;
    let mut lengths: Vec<usize> = texts.clone().flat_map(lists).map(|(_, list)| list).collect();
    lengths.retain(|length| *length >= LEAST_SIZES);
    let all = lengths.len();
    let most = (LEAST_SIZES..=20).max_by_key(|length| lengths.iter().filter(|one| *one == length).count())?;
    let alike = lengths.iter().filter(|length| **length == most).count();
    if alike < LEAST_LISTS || alike * 3 < all * 2 {
        return None;
    }
    let named = texts.take(40).find_map(|text| called(text, most).or_else(|| called_apart(text, most)));
    let (names, by) = match named {
        Some(names) => (names, "the list that names so many"),
        None => ((1..=most).map(|size| format!("Size {size}")).collect(), "its numbers, which come in lists"),
    };
    let why = format!("read by choosing: there are {most} sizes, by {by}; the text doesn't say so");
    Some(Inferred { names, why })
}

/// Lists of numbers behind a first one, `58 (64, 70)`: where each begins, and how many it has.
fn lists(text: &str) -> Vec<(usize, usize)> {
    let mut all = parted_lists(text);
    for (at, _) in text.match_indices(['(', '[', '{']) {
        let before = text.get(..at).unwrap_or_default().trim_end();
        let numbers = |list: &str| {
            let parts: Vec<&str> = list.split([',', ';', ':']).map(str::trim).collect();
            let number = |part: &&str| {
                !part.is_empty()
                    && part.chars().all(|c| c.is_ascii_digit() || matches!(c, '-' | '–' | '.' | '½' | '¼' | '¾'))
            };
            parts.iter().all(number).then_some(parts.len())
        };
        let inside = text.get(at + 1..).and_then(|rest| rest.find([')', ']', '}']).and_then(|end| rest.get(..end)));
        if let Some(more) = inside.and_then(numbers).filter(|_| before.ends_with(|c: char| c.is_ascii_digit())) {
            all.push((at, more + 1));
        }
    }
    all
}

/// Lists without a first number before their brackets: `13/13/15`, `[40] (44) {52}`.
fn parted_lists(text: &str) -> Vec<(usize, usize)> {
    let number = |part: &str| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit());
    let mut all = Vec::new();
    let (mut row, mut from, mut next) = (0, 0, 0);
    let mut middle: Vec<usize> = Vec::new();
    for word in text.split(' ') {
        let at = next;
        next += word.len() + 1;
        let bare = word.trim_matches(|c: char| !c.is_ascii_digit());
        let parts = bare.split('/').count();
        if parts > 1 && bare.split('/').all(number) {
            all.push((at, parts));
        }
        let bracketed = word.starts_with(['[', '(', '{', '<'])
            && number(bare)
            && word.trim_end_matches([',', '.', ';']).len() == bare.len() + 2;
        middle.push(if bracketed { 1 } else { usize::from(number(bare) && bare.len() + 1 >= word.len()) * 2 });
        // `28 (32) 36`.
        if middle.ends_with(&[2, 1, 2]) {
            all.push((at, 3));
        }
        if bracketed {
            from = if row == 0 { at } else { from };
            row += 1;
        } else {
            all.extend((row > 1).then_some((from, row)));
            row = 0;
        }
    }
    all.extend((row > 1).then_some((from, row)));
    all
}

/// `S/M/L`, `[A] (B) {C}`: so many short names, parted by strokes or each in brackets.
fn called_apart(text: &str, number: usize) -> Option<Vec<String>> {
    let name = |name: &String| {
        (1..=4).contains(&name.chars().count())
            && name.starts_with(char::is_uppercase)
            && name.chars().all(|c| c.is_ascii_alphanumeric())
    };
    let listed = |words: &str| -> Option<Vec<String>> {
        let parts = words.split(|c: char| !c.is_alphanumeric()).filter(|part| !part.is_empty()).map(str::to_owned);
        let all: Vec<String> = parts.collect();
        (all.len() == number && all.iter().all(name)).then_some(all)
    };
    let words: Vec<&str> = text.split(' ').collect();
    let mut middle = words
        .windows(number)
        .filter(|some| number == 3 && matches!(some, [_, within, _] if within.starts_with(['(', '[', '{', '<'])));
    let middle = middle.find_map(|some| listed(&some.join(" ")));
    let slashed = words.iter().filter(|word| word.contains('/')).find_map(|word| listed(word));
    let each = |some: &&[&str]| some.iter().all(|word| word.starts_with(['[', '(', '{', '<']));
    slashed.or(middle).or_else(|| words.windows(number).filter(each).find_map(|some| listed(&some.join(" "))))
}

/// `Newborn (3-6m, 6-12m)`, `Written for S (M; L)`: so many names, the first of them before the bracket.
fn called(text: &str, number: usize) -> Option<Vec<String>> {
    let open = text.find(['(', '['])?;
    let close = open + text.get(open..)?.find([')', ']'])?;
    let first = text.get(..open)?.trim();
    let first = first.rsplit([':', ',', '.']).next()?.trim();
    let first = ["for ", "sizes ", "size "]
        .iter()
        .find_map(|word| {
            let at = first.to_lowercase().rfind(word)?;
            first.get(at + word.len()..)
        })
        .unwrap_or(first)
        .trim();
    let others = text.get(open + 1..close)?.split([',', ';', ':', '/']).map(str::trim);
    let all: Vec<String> = std::iter::once(first).chain(others).map(|name| name.replace('/', "-")).collect();
    let name = |name: &String| {
        (1..=LONGEST).contains(&name.chars().count())
            && name.split(' ').count() <= 3
            && name.chars().any(char::is_alphabetic)
            && name.chars().all(|c| c.is_alphanumeric() || matches!(c, ' ' | '-' | '–' | '\''))
    };
    (all.len() == number && all.iter().all(name)).then_some(all)
}

/// What a part of a text is for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Chosen {
    /// One entry a size.
    pub sizes: Vec<bool>,
    /// Where it goes on, in bytes.
    pub ends: usize,
}

/// The sizes that a text says at its beginning that it is for: `Adult L only:`, `Both sizes:`, `Sizes M and L:`.
pub(super) fn chosen(text: &str, sizes: &[String]) -> Option<Chosen> {
    const MOST_BYTES: usize = 70;
    if sizes.len() < 2 {
        return None;
    }
    let open = text.trim_start_matches(['(', '[', '*', ' ']);
    let begins = text.len() - open.len();
    let colon = open.find(':').map(|at| (at, at + 1));
    let end = open.find([')', ']']).filter(|_| begins > 0).map(|at| (at, at + 1));
    let only = open.find("only").map(|at| (at + 4, at + 4));
    let whole = (open.trim_end_matches(['.', ' ']).len(), open.len());
    let (said, ends) = [colon, end, only].into_iter().flatten().min().unwrap_or(whole);
    let said = open.get(..said).filter(|said| said.len() <= MOST_BYTES)?.to_lowercase();
    let sizes = named(&said, sizes)?;
    let rest = open.get(ends..)?;
    let skipped = rest.len() - rest.trim_start_matches([':', ' ', ')', ']', '.', ',', '–', '-']).len();
    Some(Chosen { sizes, ends: begins + ends + skipped })
}

/// `For the Large size work one more round like the last.`: the sizes that a sentence begins with, and where its work begins.
pub(super) fn for_some(text: &str, sizes: &[String]) -> Option<Chosen> {
    const VERBS: [&str; 7] = [" work ", " rep ", " repeat ", " crochet ", " make ", " add ", " do "];
    let rest = text.strip_prefix("For ").or_else(|| text.strip_prefix("for ")).filter(|_| sizes.len() > 1)?;
    let at = VERBS.iter().filter_map(|verb| rest.find(verb)).min()?;
    let said = rest.get(..at)?.to_lowercase();
    let some = named(said.trim_end_matches([',', ':', ' ']), sizes)?;
    Some(Chosen { sizes: some, ends: text.len() - rest.len() + at + 1 })
}

/// The sizes that words name, if they say nothing else.
fn named(said: &str, sizes: &[String]) -> Option<Vec<bool>> {
    if let Some(ranked) = ranked(said, sizes.len()) {
        return Some(ranked);
    }
    let names: Vec<String> = sizes.iter().map(|name| name.to_lowercase()).collect();
    let (mut is_for, mut rest, mut speaks) = (vec![false; names.len()], said, false);
    let ends = |rest: &str| !rest.starts_with(char::is_alphanumeric);
    let speaks_of_sizes = said.contains("size");
    loop {
        rest = rest.trim_start_matches([' ', ',', ';', '/', '&', '(', ')', '[', ']', '+', '.']);
        if rest.is_empty() {
            break;
        }
        let as_written = |name: &str| rest.strip_prefix(name).filter(|rest| ends(rest));
        let same = names.iter().enumerate().filter_map(|(at, name)| {
            let rest = as_written(name).or_else(|| as_written(&name.replacen('-', "/", 1)));
            rest.map(|rest| (name.len(), at, rest))
        });
        if let Some((_, at, behind)) = same.max_by_key(|(length, ..)| *length) {
            *is_for.get_mut(at)? = true;
            rest = behind;
            continue;
        }
        let length = rest.find(|c: char| !c.is_alphanumeric() && c != '\'').unwrap_or(rest.len());
        let (word, behind) = rest.split_at_checked(length.max(1))?;
        rest = behind;
        match word {
            "size" | "sizes" | "only" => speaks = true,
            "for" | "the" | "and" | "in" | "work" => {}
            "all" | "both" => is_for.fill(true),
            "smallest" => *is_for.first_mut()? = true,
            "largest" => *is_for.last_mut()? = true,
            word if speaks_of_sizes && ordinal(word).is_some() => {
                *is_for.get_mut(ordinal(word)?.checked_sub(1)?)? = true;
                speaks = true;
            }
            word if letter_of(word).is_some_and(|letter| names.iter().any(|name| name == letter)) => {
                let at = names.iter().position(|name| Some(name.as_str()) == letter_of(word))?;
                *is_for.get_mut(at)? = true;
            }
            word => {
                // `Adult`, where there are `Adult S` and `Adult L`; `4`, of `4 years`.
                let begins = |name: &String| name.strip_prefix(word).is_some_and(|rest| rest.starts_with(' '));
                if !names.iter().any(begins) {
                    return None;
                }
                is_for.iter_mut().zip(&names).filter(|(_, name)| begins(name)).for_each(|(is_for, _)| *is_for = true);
            }
        }
    }
    // A number alone is that of a row.
    let told = speaks || said.starts_with(char::is_alphabetic);
    (told && is_for.contains(&true)).then_some(is_for)
}

/// `l`, of `large`.
fn letter_of(word: &str) -> Option<&'static str> {
    [("small", "s"), ("medium", "m"), ("large", "l")]
        .into_iter()
        .find(|(full, _)| *full == word)
        .map(|(_, letter)| letter)
}

/// 2, of `2nd` and of `second`.
fn ordinal(word: &str) -> Option<usize> {
    const SAID: [&str; 10] =
        ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth"];
    let number =
        ["st", "nd", "rd", "th"].iter().find_map(|end| word.strip_suffix(end)).and_then(|one| one.parse().ok());
    number.or_else(|| SAID.iter().position(|said| *said == word).map(|at| at + 1))
}

/// `the two larger sizes only`, `largest size only`: sizes by how large they are.
fn ranked(said: &str, sizes: usize) -> Option<Vec<bool>> {
    const NUMBERS: [&str; 7] = ["two", "three", "four", "five", "six", "seven", "eight"];
    let all: Vec<&str> = said.split([' ', ',']).filter(|word| !word.is_empty()).collect();
    let all: Vec<&str> =
        all.into_iter().filter(|word| !matches!(*word, "for" | "the" | "only" | "size" | "sizes" | "in")).collect();
    let number = |word: &str| {
        let said = NUMBERS.iter().position(|number| *number == word).map(|at| at + 2);
        said.or_else(|| word.parse().ok())
    };
    let (number, rank) = match all.as_slice() {
        [rank] => (1, *rank),
        [one, other] => {
            number(one).map(|count| (count, *other)).or_else(|| number(other).map(|count| (count, *one)))?
        }
        _ => return None,
    };
    // `Larger sizes` without a number are two or more; of two sizes one is larger.
    let compared = matches!(rank, "larger" | "smaller" | "bigger");
    let known = said.contains("size") && (0..sizes).contains(&number) && (!compared || number > 1 || sizes == 2);
    let largest = matches!(rank, "larger" | "largest" | "bigger" | "biggest" | "last");
    let smallest = matches!(rank, "smaller" | "smallest" | "first");
    (known && (largest || smallest))
        .then(|| (0..sizes).map(|size| if largest { size + number >= sizes } else { size < number }).collect())
}

#[cfg(test)]
mod tests {
    use super::{chosen, fitted, stated};

    #[test]
    fn sizes_are_stated_in_many_ways() {
        for (text, sizes) in [
            ("Sizes: XS (S: M: L: XL: 2XL)", "XS / S / M / L / XL / 2XL"),
            ("Sizes S (M, L), UK shoe 3-4 (5-6, 7-8). Instructions are given for S.", "S / M / L"),
            ("Terms: US • Sizes: S/M, L/XL • Worked in a spiral from the top", "S-M / L-XL"),
            ("SIZES: Child (Adult S, Adult L)", "Child / Adult S / Adult L"),
            ("Size: newborn [3 months, 6 months]", "newborn / 3 months / 6 months"),
            ("Sizes: 2 (4, 6, 8) years", "2 years / 4 years / 6 years / 8 years"),
            ("Sizes/ S [M, L]", "S / M / L"),
            ("Sizes: S [M] {L} – foot length 23 [25] {27} cm.", "S / M / L"),
            ("Sizes: 1 (2) [3]", "1 / 2 / 3"),
            ("sizes: preemie / newborn / 3 mo", "preemie / newborn / 3 mo"),
            ("UK terms | Sizes 1/2/3/4/5/6/7", "1 / 2 / 3 / 4 / 5 / 6 / 7"),
            ("**EBB PONCHO** (girls' sizes 4, 8, 12)", "4 / 8 / 12"),
            ("Written for size 4; changes for 8 and 12 in brackets", "4 / 8 / 12"),
            (
                "Directions are for small size; changes for medium and large are in parentheses.",
                "small / medium / large",
            ),
            ("Sandpiper Hat — 3 sizes: newborn, 3-6 months, 6-12 months", "newborn / 3-6 months / 6-12 months"),
            (
                "The instructions are written for size 3 mos. Sizes 6 and 9 mos. are in brackets.",
                "3 mos / 6 mos / 9 mos",
            ),
            ("Written for 3 mos. size. Sizes 6 and 9 mos. are in brackets.", "3 mos / 6 mos / 9 mos"),
            ("Directions are given for size 40. Changes for sizes 42 and 44 are given in brackets.", "40 / 42 / 44"),
            ("Raglan for babies: 0–3 m [3–6 m, 6–12 m]", "0–3 m / 3–6 m / 6–12 m"),
            ("Hook: 4 mm (5 mm)", ""),
            ("Size: small, medium and large", "small / medium / large"),
            ("Size: 45 cm wide, 170 cm long", ""),
            ("Finished size approx. 80 x 100 cm.", ""),
            ("Size 10 cotton; steel hook no. 7", ""),
        ] {
            assert_eq!(stated(text).join(" / "), sizes, "{text}");
        }
    }

    #[test]
    fn sizes_are_parted_by_signs_of_many_kinds() {
        for (text, sizes) in [
            ("Small <Medium> Large - hand 18 <20> 23 cm", "Small / Medium / Large"),
            ("Sizes   XS – S – M – L – XL", "XS / S / M / L / XL"),
            ("Size: S - M - L (XL - XXL)", "S / M / L / XL / XXL"),
            ("Sizes: Women’s S / M / L (foot circumference 20 / 22 / 24 cm)", "S / M / L"),
            ("Short (Long)", "Short / Long"),
            ("Sizes: 1 (2, 3, 4) [5, 6, 7]", "1 / 2 / 3 / 4 / 5 / 6 / 7"),
            ("S, M, L, XL to fit bust 32-34 (36-38, 40-42, 44-46) in", "S / M / L / XL"),
            ("Sizes: 3-6m (6-12m, 12-24m)", "3-6m / 6-12m / 12-24m"),
            ("Toddler, Child and Adult", "Toddler / Child / Adult"),
            ("Size: one (stretchy!)", ""),
            ("Size 1 (2, 3)", "1 / 2 / 3"),
            ("SIZES XS/S, M/L, XL/2X - instructions are written as XS/S (M/L, XL/2X)", "XS-S / M-L / XL-2X"),
            ("Stroller (crib, throw) 28 x 32 (34 x 42, 46 x 58) inches", "Stroller / crib / throw"),
            ("4 sizes: Baby:Child:Woman:Man", "Baby / Child / Woman / Man"),
            ("Sizes newborn | 3–6 months | 6–12 months", "newborn / 3–6 months / 6–12 months"),
            ("Sizes: XS 82 cm, S 88 cm, M 94 cm", "XS / S / M"),
            ("Sizes: 0 – 3 months, 3 – 6 months", "0 – 3 months / 3 – 6 months"),
        ] {
            assert_eq!(stated(text).join(" / "), sizes, "{text}");
        }
        assert_eq!(fitted("To fit bust: 81 (86, 92) cm").join(" / "), "81 cm / 86 cm / 92 cm");
        assert_eq!(fitted("to fit a woman's hand, one size").join(" / "), "");
        assert_eq!(fitted("US terms // ages 1, 2, 3").join(" / "), "1 / 2 / 3");
    }

    #[test]
    fn a_part_says_which_sizes_it_is_for() {
        let sizes = ["Child", "Adult S", "Adult L"].map(str::to_owned);
        for (text, is_for, rest) in [
            ("Adult L only: Rnd 9: Dc", [false, false, true], "Rnd 9: Dc"),
            ("Adult sizes only:", [false, true, true], ""),
            ("All sizes:", [true, true, true], ""),
            ("(Child and Adult S only) Row 3: Sc", [true, true, false], "Row 3: Sc"),
            ("For size Child only", [true, false, false], ""),
            ("2nd and 3rd sizes only – 6th round: Dc", [false, true, true], "6th round: Dc"),
            ("Two larger sizes only: Rnd 6: Dc", [false, true, true], "Rnd 6: Dc"),
            ("Largest size only: Rnd 6: Dc", [false, false, true], "Rnd 6: Dc"),
        ] {
            let chosen = chosen(text, &sizes).unwrap();
            assert_eq!((chosen.sizes.as_slice(), text.get(chosen.ends..)), (is_for.as_slice(), Some(rest)), "{text}");
        }
        for text in ["Rnd 9: Dc in each st", "Adult hat: Ch 5", "8: Sc around", "Stuff only the body."] {
            assert_eq!(chosen(text, &sizes), None, "{text}");
        }
        let joint = ["S-M", "L-XL"].map(str::to_owned);
        assert_eq!(chosen("Size L/XL only:", &joint).unwrap().sizes, [false, true]);
    }
}
